"""Forms about doors for programs: tokens and webhooks."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar
from urllib.parse import urlsplit

from django import forms

from flueproof.shop.records.access.outbox import EVENTS
from flueproof.shop.records.access.tokens import in_words, rights_to_give
from flueproof.shop.records.access.webhooks import EVENT_IN_WORDS
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import ApiToken, Person, Station, Webhook


class TokenForm(forms.Form):
    """A new token: what it is for, what it may, until when."""

    name = forms.CharField(max_length=80, label="What it is for", help_text="Such as the program and where it runs.")
    rights = forms.MultipleChoiceField(widget=forms.CheckboxSelectMultiple, label="What it may do")
    station = forms.ModelChoiceField(
        queryset=Station.objects.none(),
        required=False,
        label="Station",
        empty_label="none",
        help_text="Only for a token that delivers readings: where it stands.",
    )
    expires_on = forms.DateField(
        required=False,
        label="Last day",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="Empty: until somebody withdraws it.",
    )

    def __init__(self, *args: Any, person: Person, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        rights: Any = self.fields["rights"]
        rights.choices = [(right, in_words(right)) for right in rights_to_give(person)]
        station: Any = self.fields["station"]
        station.queryset = Station.objects.order_by("name")

    def clean_name(self) -> str:
        """Return the name when no token in use has it: a second press makes no second token."""
        name: str = self.cleaned_data["name"].strip()
        if ApiToken.objects.filter(name=name, withdrawn_at=None).exists():
            raise forms.ValidationError("A token of this name is in use. Withdraw it first, or choose another name.")
        return name

    def clean_expires_on(self) -> date | None:
        """Return the last day when it is not past."""
        day: date | None = self.cleaned_data["expires_on"]
        if day is not None and day < self.today:
            raise forms.ValidationError("This day is past.")
        return day


class WebhookForm(VersionedModelForm):
    """Where messages go, and about what."""

    url = forms.CharField(max_length=300, label="Address", widget=forms.URLInput(attrs={"placeholder": "https://"}))
    events = forms.MultipleChoiceField(
        required=False,
        widget=forms.CheckboxSelectMultiple,
        label="Tell about",
        choices=[(event, EVENT_IN_WORDS[event]) for event in EVENTS],
        help_text="None chosen means all.",
    )

    class Meta:
        """Without the secret: it is made, not typed."""

        model = Webhook
        fields = ("url", "events", "active")
        labels: ClassVar[dict[str, Any]] = {"active": "In use"}

    def clean_url(self) -> str:
        """Return the address when it is http or https with a host; names of the shop's own network are fine."""
        url: str = self.cleaned_data["url"].strip()
        try:
            parts = urlsplit(url)
            usable = parts.scheme in ("http", "https") and bool(parts.hostname) and (parts.port or 1) > 0
        except ValueError:
            usable = False
        if not usable or any(sign.isspace() or not sign.isprintable() for sign in url):
            raise forms.ValidationError("Give an address with http:// or https:// and a host.")
        if parts.username or parts.password or parts.fragment:
            raise forms.ValidationError("Leave out name, password and #: the signature tells who sends.")
        return url

    def _get_validation_exclusions(self) -> set[str]:
        """Leave the model's own check of addresses out: it knows no host names of a local network."""
        excluded: set[str] = super()._get_validation_exclusions()  # type: ignore[misc] # Django's own hook
        return {*excluded, "url"}
