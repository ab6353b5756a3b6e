"""The picture of the week: for each day a row for every person and every station, hour by hour."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.shop.promises.presenters.picture.drawing import Day, Drawing
from flueproof.shop.promises.presenters.picture.stretches import by_person, by_station
from flueproof.shop.records.promises.plan.content import Work

DAYS: Final = 5


@dataclass(frozen=True, slots=True)
class Week:
    """The next business days of the plan."""

    days: list[Day]


def week_of(
    content: Mapping[str, Any],
    work: Sequence[Work],
    calendar: ShopCalendar,
    now: dt.datetime,
    labels: Mapping[str, str],
) -> Week:
    """Return the picture of the coming business days; labels: job number -> what stands on its blocks."""
    late = {name for name, job in content["jobs"].items() if job["due"] is not None and job["ends"] > job["due"]}
    stretches = [*by_person(work), *by_station(work)]
    lanes = [("person", name) for name in content["people"].values()] + [("station", n) for n in content["stations"]]
    day, days = calendar.first_business_day(calendar.today(now)), []
    for _ in range(DAYS):
        days.append(Drawing(calendar, day, lanes, labels, late, now).draw(stretches))
        day = calendar.next_business_day(day)
    return Week(days)
