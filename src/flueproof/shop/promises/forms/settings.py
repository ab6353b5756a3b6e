"""The settings of the promise: the shop's calendar, hours and days per service."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from flueproof.promise.calendar.holiday_table import known_countries, known_regions
from flueproof.promise.clock.terms import MOST_DAYS
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import Closure, Job, Shop
from flueproof.shop.records.promises.calendar import why_impossible

WEEKDAYS = [
    (0, "Monday"),
    (1, "Tuesday"),
    (2, "Wednesday"),
    (3, "Thursday"),
    (4, "Friday"),
    (5, "Saturday"),
    (6, "Sunday"),
]
_EXTRA = "repair-extra"


def _time() -> forms.TimeInput:
    return forms.TimeInput(attrs={"type": "time"}, format="%H:%M")


class PromiseForm(VersionedModelForm):
    """The shop's calendar and what a promise means."""

    country = forms.ChoiceField(label="Public holidays of", choices=lambda: [(c, c) for c in known_countries()])
    region = forms.CharField(label="State or region", required=False, max_length=10)
    working_days = forms.TypedMultipleChoiceField(
        label="Days worked", choices=WEEKDAYS, coerce=int, widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        """What the calendar is made of, and the meaning of the promise."""

        model = Shop
        fields = (
            "country",
            "region",
            "working_days",
            "opens_at",
            "closes_at",
            "cut_off_at",
            "promise_means",
            "transit_days",
        )
        widgets: ClassVar[dict[str, Any]] = {
            "opens_at": _time(),
            "closes_at": _time(),
            "cut_off_at": _time(),
            "promise_means": forms.RadioSelect,
        }
        labels: ClassVar[dict[str, Any]] = {
            "opens_at": "Opens at",
            "closes_at": "Closes at",
            "cut_off_at": "Cut-off",
            "promise_means": "A promised day means",
            "transit_days": "Business days on the way back",
        }
        help_texts: ClassVar[dict[str, Any]] = {
            "cut_off_at": "A box that comes later counts from the next business day."
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        days = self.instance.promised_days
        names = [(service, words) for service, words in Job.SERVICES] + [(_EXTRA, "more, when it turns out a repair")]
        self.day_names = [f"days_{service}" for service, _ in names]
        for service, words in names:
            self.fields[f"days_{service}"] = forms.IntegerField(
                label=words[:1].upper() + words[1:], min_value=0, max_value=MOST_DAYS, initial=days.get(service, 5)
            )
        country = self.data.get("country") or self.instance.country
        regions = known_regions(country) if country in known_countries() else {}
        told = ", ".join(code for code in list(regions)[:60])
        self.fields["region"].help_text = f"Empty for the whole country. Known: {told}." if told else "Empty."

    @property
    def day_fields(self) -> list[Any]:
        """Return the fields of the days per service."""
        return [self[name] for name in self.day_names]

    def wanted(self) -> dict[str, Any]:
        """Put the days per service together."""
        told = {name.removeprefix("days_"): self.cleaned_data[name] for name in self.day_names}
        return super().wanted() | {"promised_days": {**self.instance.promised_days, **told}}

    def clean(self) -> dict[str, Any]:
        """Refuse what no calendar can be made of, where the eye is."""
        cleaned = super().clean() or {}
        if not self.errors:
            tried = Shop(time_zone=self.instance.time_zone)
            for name in ("country", "region", "working_days", "opens_at", "closes_at", "cut_off_at"):
                setattr(tried, name, cleaned[name])
            why = why_impossible(tried, Closure.objects.all())
            if why:
                self.add_error("region" if "region" in why else None, f"{why[:1].upper()}{why[1:]}.")
        return cleaned


class DaysForm(forms.Form):
    """Days from one to another, and why."""

    first = forms.DateField(label="From", widget=forms.DateInput(attrs={"type": "date"}))
    last = forms.DateField(
        label="To", required=False, widget=forms.DateInput(attrs={"type": "date"}), help_text="Empty: that day only."
    )
    words = forms.CharField(label="Why", max_length=120, required=False)

    def clean(self) -> dict[str, Any]:
        """Refuse days that are turned round, and more than a year."""
        cleaned = super().clean() or {}
        first, last = cleaned.get("first"), cleaned.get("last") or cleaned.get("first")
        if first and last:
            if last < first:
                self.add_error("last", "That is before the first day.")
            elif (last - first).days > 366:
                self.add_error("last", "That is more than a year.")
        cleaned["last"] = last
        return cleaned


class ClosedForm(DaysForm):
    """Days on which the shop is closed, or open in spite of a holiday."""

    open = forms.BooleanField(label="Open in spite of a holiday or weekend", required=False)

    def clean(self) -> dict[str, Any]:
        """Ask for a reason: it is shown wherever the day is closed."""
        cleaned = super().clean()
        if not cleaned.get("words", "").strip():
            self.add_error("words", "Say why: it is shown wherever the day is closed.")
        return cleaned


class PatternForm(forms.Form):
    """A person's hours a week and skills."""

    SKILLS: ClassVar = [("bench", "work at the bench"), ("repair", "repair"), ("sign", "read and sign")]

    planned = forms.BooleanField(label="Gets work from the plan", required=False)
    skills = forms.MultipleChoiceField(label="Can", choices=SKILLS, required=False, widget=forms.CheckboxSelectMultiple)

    def __init__(self, *args: Any, hours: dict[str, list[str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for day, word in WEEKDAYS:
            begins, ends = hours.get(str(day)) or ("", "")
            for part, initial, label in (("from", begins, f"{word} from"), ("to", ends, f"{word} to")):
                self.fields[f"{part}_{day}"] = forms.TimeField(
                    label=label, required=False, initial=initial or None, widget=_time()
                )

    @property
    def day_pairs(self) -> list[tuple[str, Any, Any]]:
        """Return (weekday, from, to) for the page."""
        return [(word, self[f"from_{day}"], self[f"to_{day}"]) for day, word in WEEKDAYS]

    def clean(self) -> dict[str, Any]:
        """Refuse a day with one end only, or turned round."""
        cleaned = super().clean() or {}
        for day, word in WEEKDAYS:
            begins, ends = cleaned.get(f"from_{day}"), cleaned.get(f"to_{day}")
            if bool(begins) != bool(ends):
                self.add_error(f"to_{day}", f"{word} needs both times, or none.")
            elif begins and ends and ends <= begins:
                self.add_error(f"to_{day}", f"{word} ends before it begins.")
        return cleaned

    def hours(self) -> dict[str, list[str]]:
        """Return the hours as they are kept: weekday -> [from, to]."""
        got = self.cleaned_data
        return {
            str(day): [f"{got[f'from_{day}']:%H:%M}", f"{got[f'to_{day}']:%H:%M}"]
            for day, _ in WEEKDAYS
            if got.get(f"from_{day}")
        }


class StationKindsForm(forms.Form):
    """What can be done at a station, and whether it is in use."""

    KINDS: ClassVar = [("gas", "test gas"), ("temperature", "temperature"), ("draft", "draft and pressure")]

    in_use = forms.BooleanField(label="In use", required=False)
    kinds = forms.MultipleChoiceField(
        label="What can be done here", choices=KINDS, required=False, widget=forms.CheckboxSelectMultiple
    )
