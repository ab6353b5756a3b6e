"""What must come first, or be waited for, before gas is put on: else the run would not count and the gas is spent.

The judge says afterwards what did not count; these are the same rules of the profile, asked beforehand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from flueproof.analyzer.profile import Profile
from flueproof.bench.part_names import cells_named
from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.surroundings import ZeroingStep
from flueproof.bench.record.steps.work import PartStep
from flueproof.shop.records.visits.judged import Judged


@dataclass(frozen=True, slots=True)
class First:
    """What comes before the gas.

    kind: `zeroing` where something is to be done, `wait` where time must pass; until: then it may go on, for a wait.
    """

    kind: str
    words: str
    why: str
    until: datetime | None = None


def before_gas(found: Judged, now: datetime) -> First | None:
    """Return what must come before gas is put on now, None where nothing must.

    Source: the profile's settling times; switching on anew after the case was open is common practice, no source.
    """
    if found.record is None:
        return None
    settling = max(_settling(found.record, found.profile), key=lambda one: one[1], default=None)
    if settling is not None and now < settling[1]:
        gas, until, hours = settling
        words = f"Let the new {gas.upper()} cell settle until {_clock(until, now)}."
        why = f"The profile asks for {hours:g} h after it was fitted; gas put on before does not count."
        return First("wait", words, f"{why} What needs no gas can be done meanwhile.", until)
    if _opened_since_zeroing(found.record):
        words = "Switch on in clean air."
        return First("zeroing", words, "The case was open since it was last switched on; the warm-up counts anew.")
    return None


def _settling(record: Record, profile: Profile) -> Iterator[tuple[str, datetime, float]]:
    for step in record.standing_steps():
        if isinstance(step, PartStep) and step.done in {"replaced", "fitted"}:
            for gas in cells_named(step.what, profile):
                hours = profile.cells[gas].settle_hours
                yield gas, step.at + timedelta(hours=hours), hours


def _opened_since_zeroing(record: Record) -> bool:
    opened = False
    for step in record.standing_steps():
        if isinstance(step, ZeroingStep):
            opened = False
        elif isinstance(step, PartStep) and step.opened_case:
            opened = True
    return opened


def _clock(moment: datetime, now: datetime) -> str:
    """Return a moment in the shop's zone: the time, with the day when it is another one."""
    here, today = timezone.localtime(moment), timezone.localtime(now)
    time = f"{here:%H:%M}"
    return time if here.date() == today.date() else f"{time} on {here.day} {here:%B}"
