"""What is known of an analyzer before the first question, from its profile, its cells and the day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from flueproof.analyzer.profile import Profile
from flueproof.faults.knowledge.knowledge import Situation

DAYS_A_YEAR = 365.25


def situation_of(
    profile: Profile | None, made: Mapping[str, dt.date] | None, day: dt.date, *, routine: bool = False
) -> Situation:
    """Return the situation of an analyzer on a day.

    profile: None when the model is not known, then every cause stays possible; made: day of making (of installation,
    where nothing better is known) of its parts: o2, co, no2, filter, pump, battery. Days to come count as new.
    routine: it came for its yearly check, nobody complained.
    """
    has = None if profile is None else frozenset(profile.channels)
    ages = {part: max(0.0, (day - one).days / DAYS_A_YEAR) for part, one in (made or {}).items()}
    return Situation(has, ages, day.month, routine)
