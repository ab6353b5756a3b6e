"""The questions on the phone, as they are typed."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms

from flueproof.shop.promises.forms.job import day_input
from flueproof.shop.records.keeping.plate_key import plate_key
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.questions import Asked


class OpenJobField(forms.CharField):
    """An open job, by its number or the serial number of its analyzer; empty for a new one."""

    def clean(self, value: Any) -> Any:
        """Return the job or None. Raises: ValidationError where none or several are meant."""
        typed = str(super().clean(value) or "").strip()
        if not typed:
            return None
        open_jobs = Job.objects.filter(state__in=Job.OPEN).select_related("owner", "analyzer")
        found = list(open_jobs.filter(number__iexact=typed)[:1])
        key = plate_key(typed)
        found = found or (list(open_jobs.filter(analyzer__serial_key=key)[:2]) if key else [])
        found = found or list(open_jobs.filter(number__iendswith=f"-{typed.zfill(5)}")[:2])
        if not found:
            raise forms.ValidationError("No open job has this number or serial number. Empty asks for a new job.")
        if len(found) > 1:
            raise forms.ValidationError(f"Several are meant: {', '.join(job.number for job in found)}.")
        return found[0]


class CanForm(forms.Form):
    """Can this be done by then?"""

    job = OpenJobField(
        label="Job or serial number", required=False, max_length=60, help_text="Empty: a new job of this service."
    )
    service = forms.ChoiceField(label="Service", choices=Job.SERVICES, initial="verify-adjust", required=False)
    by_day = forms.DateField(label="Done by", widget=day_input())
    by_time = forms.TimeField(label="At", widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"))
    here_on = forms.DateField(
        label="Its box is here on", required=False, widget=day_input(), help_text="Empty: it is here."
    )

    def __init__(self, *args: Any, now: dt.datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        calendar = shop_calendar()
        self.initial.setdefault("by_day", calendar.next_business_day(calendar.today(now)))
        self.initial.setdefault("by_time", dt.time(15))

    def asked(self) -> Asked:
        """Return what is asked for."""
        got = self.cleaned_data
        by = dt.datetime.combine(got["by_day"], got["by_time"], tzinfo=shop_calendar().zone)
        return Asked(by, got["job"], got["service"] or "verify-adjust", "", got["here_on"])


class AwayForm(forms.Form):
    """What if somebody is away?"""

    person = forms.ModelChoiceField(label="Who is away", queryset=Person.objects.none(), empty_label=None)
    first = forms.DateField(label="On", widget=day_input())
    last = forms.DateField(label="Until", required=False, widget=day_input(), help_text="Empty: that day only.")

    def __init__(self, *args: Any, now: dt.datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        people: Any = self.fields["person"]
        people.queryset = Person.objects.filter(working_pattern__planned=True, is_active=True).order_by("last_name")
        calendar = shop_calendar()
        self.initial.setdefault("first", calendar.next_business_day(calendar.today(now)))

    def clean(self) -> dict[str, Any]:
        """Refuse days that are turned round."""
        cleaned = super().clean() or {}
        first, last = cleaned.get("first"), cleaned.get("last")
        if first and last and last < first:
            self.add_error("last", "That is before the first day.")
        return cleaned


class RoomForm(forms.Form):
    """How many more can we take?"""

    service = forms.ChoiceField(label="Service", choices=Job.SERVICES, initial="verify-adjust")
    until = forms.DateField(label="Done by the end of", widget=day_input())

    def __init__(self, *args: Any, now: dt.datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        calendar = shop_calendar()
        today = calendar.today(now)
        friday = calendar.last_business_day(today + dt.timedelta(days=6 - today.weekday()))
        self.initial.setdefault("until", max(friday, calendar.first_business_day(today)))
