"""Fields that the steps share: days, texts, ticks with words that an owner understands."""

from __future__ import annotations

from typing import Any, Final

from django import forms

from flueproof.shop.records.jobs.box import ENCLOSED

PLATE: Final = {"class": "plate", "spellcheck": "false", "autocomplete": "off", "autocapitalize": "characters"}
_LONGEST_THING: Final = 60

SERVICES: Final = [
    ("verify", "Verify: test it on gas, change nothing"),
    ("verify-adjust", "Verify, and adjust it if needed"),
    ("repair", "Verify, and repair it up to a sum"),
    ("call-first", "Verify, and call me before anything is changed"),
]
RULES: Final = [
    ("risk-2", "Usual: over all, at most 2 in 100 are passed wrongly. Nothing to do for you."),
    ("simple", "Plain: the reading alone decides. Close to a limit a pass is little more than a coin toss."),
    ("guarded-U", "Strict: it passes only where it is inside by the whole uncertainty. More units fail."),
    ("specific-2", "Point by point: at most 2 in 100 at each single test point."),
]
ACCIDENTS: Final = [("dropped", "It was dropped"), ("wet", "It got wet"), ("frozen", "It was frozen")]


def day_input() -> forms.DateInput:
    """Return the control for a day; the browser shows it its own way and sends year, month, day."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def text_area(rows: int = 3) -> forms.Textarea:
    """Return a control for several lines."""
    return forms.Textarea(attrs={"rows": rows})


class EnclosedField(forms.MultipleChoiceField):
    """The packing list; what was written in by hand is kept as it is."""

    def __init__(self, **options: Any) -> None:
        options.setdefault("widget", forms.CheckboxSelectMultiple)
        super().__init__(required=False, choices=[(name, name) for name in ENCLOSED], **options)

    def valid_value(self, value: Any) -> bool:
        """Accept any short text: the list is a help, not a limit."""
        return 0 < len(str(value).strip()) <= _LONGEST_THING

    def offer_also(self, names: list[str]) -> None:
        """Show these in the list too."""
        fresh = [str(name) for name in names if self.valid_value(name)]
        self.choices = [(name, name) for name in dict.fromkeys([*ENCLOSED, *fresh])]


def written_in(text: str) -> list[str]:
    """Return the things of "spare tip, manual" one by one."""
    return [part.strip()[:_LONGEST_THING] for part in text.replace("\n", ",").split(",") if part.strip()]
