"""Forms about the shop itself: its settings, and its stations."""

from __future__ import annotations

import zoneinfo
from functools import cache
from typing import Any, ClassVar

from django import forms

from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Shop, Station

_MOST_LINES = 6


@cache
def _zones() -> list[tuple[str, str]]:
    names = sorted(name for name in zoneinfo.available_timezones() if "/" in name and not name.startswith("Etc/"))
    return [(name, name.replace("_", " ").replace("/", ": ", 1)) for name in [*names, "UTC"]]


class LinesField(forms.CharField):
    """Lines of text, kept as a list; empty lines are dropped."""

    widget = forms.Textarea(attrs={"rows": 4})

    def prepare_value(self, value: Any) -> Any:
        """Return the lines as text."""
        return "\n".join(value) if isinstance(value, list) else value

    def clean(self, value: Any) -> Any:
        """Return the list of lines.

        Raises: ValidationError when there are too many for a paper.
        """
        lines = [line.strip() for line in str(super().clean(value) or "").splitlines() if line.strip()]
        if len(lines) > _MOST_LINES:
            raise forms.ValidationError(f"{len(lines)} lines are too many for a paper; {_MOST_LINES} fit.")
        return lines


class ShopForm(VersionedModelForm):
    """Name and address as on papers, and the rules the shop set itself."""

    address = LinesField(required=False, label="Address", help_text="As it stands on papers, line by line.")
    time_zone = forms.ChoiceField(choices=_zones, label="Time zone")
    public_address = forms.URLField(
        label="Address of these pages as owners reach them",
        required=False,
        max_length=200,
        assume_scheme="https",
        help_text="Such as https://bench.example; empty: e-mails carry no links and owners have no pages.",
    )
    sticker_size = forms.ChoiceField(
        label="Sticker size", choices=lambda: [(name, name) for name in shipped_sizes().single]
    )

    class Meta:
        """All settings."""

        model = Shop
        fields = (
            "name",
            "address",
            "phone",
            "email",
            "public_address",
            "public_requests",
            "currency",
            "quote_valid_days",
            "unclaimed_after_days",
            "comeback_days",
            "method",
            "link",
            "time_zone",
            "paper_size",
            "paper_units",
            "sticker_size",
            "signers_may_sign_own_work",
            "morning_check_needed",
            "gas_budget_l",
            "room_co_alarm_ppm",
        )
        widgets: ClassVar[dict[str, Any]] = {"paper_size": forms.RadioSelect, "paper_units": forms.RadioSelect}
        labels: ClassVar[dict[str, Any]] = {
            "email": "E-mail",
            "public_requests": "Owners may send service requests without an account",
            "quote_valid_days": "A quote stands for [days]",
            "unclaimed_after_days": "A box counts as unclaimed after [days]",
            "comeback_days": "A return counts as a comeback within [days]",
            "signers_may_sign_own_work": "Signers may sign their own bench work",
            "morning_check_needed": "No bench work before the morning check",
        }
        help_texts: ClassVar[dict[str, Any]] = {
            "link": "Where the code on a sticker leads; empty for the certificate number alone.",
            "email": "Letters come from it, and answers go to it.",
            "currency": "Three letters (ISO 4217), such as USD. Quotes that were written keep theirs.",
            "gas_budget_l": "Liters of test gas that the proposals of one visit may spend.",
            "room_co_alarm_ppm": "Above it the bench stops. Your local rules may ask for less.",
        }

    def clean_currency(self) -> str:
        """Return the currency in capitals when it has three letters."""
        currency = str(self.cleaned_data["currency"]).strip().upper()
        if not (len(currency) == 3 and currency.isascii() and currency.isalpha()):
            raise forms.ValidationError("Three letters, such as USD.")
        return currency

    def clean_quote_valid_days(self) -> int:
        """Return the days when they are possible ones."""
        return int(_between(self.cleaned_data["quote_valid_days"], 1, 365, "days"))

    def clean_unclaimed_after_days(self) -> int:
        """Return the days when they are possible ones."""
        return int(_between(self.cleaned_data["unclaimed_after_days"], 1, 730, "days"))

    def clean_comeback_days(self) -> int:
        """Return the days when they are possible ones."""
        return int(_between(self.cleaned_data["comeback_days"], 1, 365, "days"))

    def clean_gas_budget_l(self) -> float:
        """Return the budget when it is a possible one."""
        return _between(self.cleaned_data["gas_budget_l"], 0.5, 500.0, "L")

    def clean_room_co_alarm_ppm(self) -> float:
        """Return the threshold when it is a possible one."""
        return _between(self.cleaned_data["room_co_alarm_ppm"], 1.0, 35.0, "ppm")


class StationForm(VersionedModelForm):
    """A station's name and the id of the agent beside it."""

    class Meta:
        """Both fields."""

        model = Station
        fields = ("name", "agent")
        help_texts: ClassVar[dict[str, Any]] = {
            "agent": "What the capture agent there was started with (--agent); empty without one."
        }


def _between(value: float, low: float, high: float, unit: str) -> float:
    if not low <= value <= high:
        raise forms.ValidationError(f"{value:g} {unit} cannot be meant; type {low:g} to {high:g} {unit}.")
    return value
