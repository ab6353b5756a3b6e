"""The forms of the steps: of the request, and of each analyzer in it."""

from __future__ import annotations

import datetime as dt
from typing import Any, ClassVar

from django import forms
from django.utils import timezone

from flueproof.shop.records.intake.asking.limits import own_limits
from flueproof.shop.records.intake.asking.serials import serial_question
from flueproof.shop.records.keeping.conflict import Difference
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import RequestedAnalyzer, ServiceRequest
from flueproof.shop.requests.forms.controls import (
    ACCIDENTS,
    PLATE,
    RULES,
    SERVICES,
    EnclosedField,
    day_input,
    text_area,
    written_in,
)

_LONGEST_WORDS = 2000
_LONGEST_ADDRESS = 1000


class WhoForm(VersionedModelForm):
    """Who asks."""

    class Meta:
        """In the order in which one asks."""

        model = ServiceRequest
        fields = ("firm", "contact", "phone", "email")
        labels: ClassVar[dict[str, Any]] = {
            "firm": "Firm",
            "contact": "Your name",
            "phone": "Phone",
            "email": "E-mail",
        }
        widgets: ClassVar[dict[str, Any]] = {
            "firm": forms.TextInput(attrs={"autocomplete": "organization"}),
            "contact": forms.TextInput(attrs={"autocomplete": "name"}),
            "phone": forms.TextInput(attrs={"type": "tel", "autocomplete": "tel"}),
            "email": forms.EmailInput(attrs={"autocomplete": "email"}),
        }

    def __init__(self, *args: Any, on_phone: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.on_phone = on_phone
        self.fields["email"].required = not on_phone
        if not on_phone:
            self.fields["email"].help_text = "You confirm the request by a link that we send there."

    def clean(self) -> dict[str, Any]:
        """Ask for a name: of the firm, or of the person."""
        cleaned = super().clean() or {}
        if not cleaned.get("firm", "").strip() and not cleaned.get("contact", "").strip():
            self.add_error("firm", "Write your firm, or your name if there is no firm.")
        if self.on_phone and not cleaned.get("phone") and not cleaned.get("email") and "email" not in self.errors:
            self.add_error("phone", "A phone number or an e-mail address is needed, to ask back.")
        return cleaned


class AnalyzerForm(VersionedModelForm):
    """Which analyzer; an odd serial is asked about once."""

    asked_serial = forms.CharField(widget=forms.HiddenInput, required=False, max_length=60)

    class Meta:
        """As it stands on the plate."""

        model = RequestedAnalyzer
        fields = ("make", "model", "serial", "own_number")
        labels: ClassVar[dict[str, Any]] = {
            "make": "Make",
            "model": "Model",
            "serial": "Serial number",
            "own_number": "Your own number for it",
        }
        widgets: ClassVar[dict[str, Any]] = {"serial": forms.TextInput(attrs=PLATE)}
        help_texts: ClassVar[dict[str, Any]] = {"serial": "Exactly as on the plate. Not at hand? Leave it empty."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["model"].required = True
        self.question = ""

    def clean(self) -> dict[str, Any]:
        """Ask once about a serial that does not look like one of its model; sent again it is taken."""
        cleaned = super().clean() or {}
        serial = cleaned.get("serial", "")
        asked = serial_question(cleaned.get("make", ""), cleaned.get("model", ""), serial)
        known = serial in {cleaned.get("asked_serial"), self.instance.serial}
        if asked and not known:
            self.question = asked
            sent: Any = self.data
            self.data = sent.copy()
            self.data[self.add_prefix("asked_serial")] = serial  # type: ignore[index] # a copy can be written to
            self.add_error("serial", f"{asked} Is it right? Then go on once more.")
        return cleaned


class WrongForm(VersionedModelForm):
    """What is wrong, what it was used on, what happened to it."""

    accidents = forms.MultipleChoiceField(
        label="What happened to it", choices=ACCIDENTS, required=False, widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        """In the owner's words."""

        model = RequestedAnalyzer
        fields = ("complaint", "used_on", "accidents")
        labels: ClassVar[dict[str, Any]] = {"complaint": "What is wrong, in your words", "used_on": "Last used on"}
        widgets: ClassVar[dict[str, Any]] = {"complaint": text_area()}
        help_texts: ClassVar[dict[str, Any]] = {
            "complaint": "What it shows, when, since when. Nothing wrong? Write “yearly check”.",
            "used_on": "Oil, gas, wood, engine; very high CO; anything it does not usually see.",
        }

    def clean_complaint(self) -> str:
        """Refuse a novel."""
        text: str = self.cleaned_data["complaint"]
        if len(text) > _LONGEST_WORDS:
            raise forms.ValidationError(f"At most {_LONGEST_WORDS} signs, please; this has {len(text)}.")
        return text


class WantedForm(VersionedModelForm):
    """Service, limits and rule, and what the bench may do."""

    service = forms.ChoiceField(label="Service", choices=SERVICES, widget=forms.RadioSelect)
    spend_up_to = forms.DecimalField(
        label="Repair up to",
        min_value=0,
        max_digits=9,
        decimal_places=2,
        required=False,
        help_text="Only for a repair.",
    )
    limits_of = forms.ChoiceField(
        label="Limits",
        choices=[("profile", "The usual ones of its model. Nothing to do for you."), ("own", "Our own:")],
        widget=forms.RadioSelect,
    )
    limits = forms.JSONField(required=False, disabled=True, widget=forms.HiddenInput)  # so that another tab's is seen
    own_co_ppm = forms.FloatField(label="CO, ± ppm", min_value=0.1, max_value=1000, required=False)
    own_co_percent = forms.FloatField(label="CO, ± % of the gas", min_value=0.1, max_value=100, required=False)
    own_o2 = forms.FloatField(label="O₂, ± % O₂", min_value=0.05, max_value=5, required=False)
    decision_rule = forms.ChoiceField(
        label="When is a reading close to its limit a pass?", choices=RULES, widget=forms.RadioSelect
    )

    class Meta:
        """What is ordered."""

        model = RequestedAnalyzer
        fields = (
            "service",
            "spend_up_to",
            "as_found",
            "may_set_clock",
            "may_update_firmware",
            "may_clear_memory",
            "due_wanted",
            "due_months",
            "decision_rule",
        )
        labels: ClassVar[dict[str, Any]] = {
            "as_found": "Report how it read before anything was changed (as found)",
            "may_set_clock": "You may set its clock",
            "may_update_firmware": "You may update its firmware",
            "may_clear_memory": "You may delete stored measurements",
            "due_wanted": "Print a due date on certificate and sticker",
            "due_months": "Months between checks",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, value in limits_as_typed(self.instance.limits).items():
            self.initial.setdefault(name, value)
        months: Any = self.fields["due_months"]
        months.min_value, months.required = 1, False
        months.widget.attrs.update(min=1, max=60)

    def clean(self) -> dict[str, Any]:
        """Ask for the sum of a repair, and for a figure where the limits are the owner's."""
        cleaned = super().clean() or {}
        no_sum = cleaned.get("spend_up_to") is None and "spend_up_to" not in self.errors
        if cleaned.get("service") == "repair" and no_sum:
            self.add_error("spend_up_to", "Up to which sum? Or choose “call me before anything is changed”.")
        if cleaned.get("due_months") is None and "due_months" not in self.errors:
            cleaned["due_months"] = self.instance.due_months
        if not 1 <= (cleaned.get("due_months") or 1) <= 60:
            self.add_error("due_months", "From 1 to 60 months.")
        figures = [cleaned.get(name) for name in ("own_co_ppm", "own_co_percent", "own_o2")]
        if cleaned.get("limits_of") == "own" and not any(figures) and not self.errors:
            self.add_error("limits_of", "Write at least one figure of your limits below, or take the usual ones.")
        return cleaned

    def wanted(self) -> dict[str, Any]:
        """Put the owner's own limits together, as the bench record has them."""
        return {**super().wanted(), "limits": _limits_of(self.cleaned_data)}

    def _fill_with_merged(self, differences: list[Difference]) -> None:
        """Show the limits that another tab saved, where none were typed here."""
        super()._fill_with_merged(differences)
        if any(item.field == "limits" and item.mine is None and not item.clash for item in differences):
            sent: Any = self.data
            for name, value in limits_as_typed(self.instance.limits).items():
                sent[self.add_prefix(name)] = f"{value:g}" if isinstance(value, float) else (value or "")


class NeededForm(VersionedModelForm):
    """By when all of it is needed."""

    class Meta:
        """Of the whole request."""

        model = ServiceRequest
        fields = ("needed_by", "purchase_order")
        labels: ClassVar[dict[str, Any]] = {"needed_by": "Needed by", "purchase_order": "Your order number"}
        widgets: ClassVar[dict[str, Any]] = {"needed_by": day_input()}
        help_texts: ClassVar[dict[str, Any]] = {
            "needed_by": "Only if there is a day. It is a wish; we tell you what we can promise."
        }

    def clean_needed_by(self) -> dt.date | None:
        """Refuse a day that is over; one that was kept before stays."""
        day: dt.date | None = self.cleaned_data["needed_by"]
        if day and day < timezone.localdate() and day != self.instance.needed_by:
            raise forms.ValidationError("That day is over. Leave it empty if there is no day.")
        return day


class PackedForm(VersionedModelForm):
    """What is in the box, of one analyzer."""

    enclosed = EnclosedField(label="In the box")
    also_enclosed = forms.CharField(
        label="What else", required=False, max_length=200, help_text="Separate several with commas."
    )

    class Meta:
        """The packing list."""

        model = RequestedAnalyzer
        fields = ("enclosed",)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        sent: Any = self.data
        name = self.add_prefix("enclosed")
        listed: Any = self.fields["enclosed"]
        listed.offer_also([*self.instance.enclosed, *(sent.getlist(name) if hasattr(sent, "getlist") else ())])

    def wanted(self) -> dict[str, Any]:
        """Put the list and what was written in together."""
        wanted = super().wanted()
        things = [*wanted["enclosed"], *written_in(self.cleaned_data["also_enclosed"])]
        return wanted | {"enclosed": list(dict.fromkeys(things))[:20]}


class ReturnForm(VersionedModelForm):
    """Where and how it goes back."""

    class Meta:
        """Of the whole request."""

        model = ServiceRequest
        fields = ("lines", "town", "region", "postcode", "country", "carrier", "note")
        labels: ClassVar[dict[str, Any]] = {
            "lines": "Street",
            "town": "Town",
            "region": "State or region",
            "postcode": "ZIP or postcode",
            "country": "Country",
            "carrier": "How it goes back",
            "note": "Anything else",
        }
        widgets: ClassVar[dict[str, Any]] = {
            "lines": forms.Textarea(attrs={"rows": 2, "autocomplete": "street-address"}),
            "town": forms.TextInput(attrs={"autocomplete": "address-level2"}),
            "region": forms.TextInput(attrs={"autocomplete": "address-level1"}),
            "postcode": forms.TextInput(attrs={"autocomplete": "postal-code"}),
            "country": forms.TextInput(attrs={"autocomplete": "country-name"}),
            "note": text_area(2),
        }
        help_texts: ClassVar[dict[str, Any]] = {"carrier": "A carrier of your choice, or “we collect it”."}

    def clean_lines(self) -> str:
        """Refuse what is no address."""
        text: str = self.cleaned_data["lines"]
        if len(text) > _LONGEST_ADDRESS:
            raise forms.ValidationError(f"At most {_LONGEST_ADDRESS} signs, please; this has {len(text)}.")
        return text

    def clean_note(self) -> str:
        """Refuse a novel."""
        text: str = self.cleaned_data["note"]
        if len(text) > _LONGEST_WORDS:
            raise forms.ValidationError(f"At most {_LONGEST_WORDS} signs, please; this has {len(text)}.")
        return text

    def clean(self) -> dict[str, Any]:
        """Ask where it goes, unless it is collected or told otherwise."""
        cleaned = super().clean() or {}
        if not any(cleaned.get(name, "").strip() for name in ("lines", "town", "carrier")):
            self.add_error("lines", "Where shall it go? Or write below that you collect it.")
        return cleaned


def limits_as_typed(limits: Any) -> dict[str, Any]:
    """Return the fields that give these limits back: whose they are, and the owner's figures."""
    own = limits if isinstance(limits, dict) else {}
    return {
        "limits_of": "own" if own else "profile",
        "own_co_ppm": own.get("co", {}).get("absolute"),
        "own_co_percent": own.get("co", {}).get("percent"),
        "own_o2": own.get("o2", {}).get("absolute"),
    }


def _limits_of(given: dict[str, Any]) -> Any:
    """Return "profile", or the owner's own limits by channel in the form of the bench record."""
    if given["limits_of"] != "own":
        return "profile"
    return own_limits(given["own_co_ppm"], given["own_co_percent"], given["own_o2"])
