"""The demo's gas rack: six cylinders, the instruments, gauge readings, and mornings on the control analyzer."""

from __future__ import annotations

import datetime as dt
import random
from decimal import Decimal
from typing import Any

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.demo_shop.scenario import scenario, shifted, workdays_before
from flueproof.shop.records.gas.control import channels_for, control_line
from flueproof.shop.records.gas.morning import MorningEntry, record_morning
from flueproof.shop.records.models import Analyzer, GaugeReading, Person, Reference, Shop
from flueproof.simulate.demo_visits.rack import references_named


def make_rack(days: int, now: dt.datetime, by: Person) -> dict[str, Reference]:
    """Make cylinders and instruments; days: how far the scenario's dates are moved."""
    told = scenario()["rack"]
    states = {
        code: state for state, key in (("in-use", "in_use"), ("new", "new"), ("empty", "empty")) for code in told[key]
    }
    rack = {}
    for code in [*states, *told["instruments"]]:
        content: dict[str, Any] = shifted(references_named([code])[code], days)
        rack[code] = Reference.objects.create(
            code=code,
            kind=content["kind"],
            title=told["titles"][code],
            content=content,
            state=states.get(code, "in-use"),
            good_until=dt.date.fromisoformat(content.get("expires") or content["due"]),
            water_volume_l=told["water_volume_l"].get(code),
            fill_kpa=told["fill_kpa"].get(code),
            price=Decimal(told["price"][code]) if code in told["price"] else None,
            place="rack at the window" if code in states else "drawer 2",
        )
    for code, kpa in told["gauge_kpa"].items():
        GaugeReading.objects.create(reference=rack[code], kpa=kpa, at=now - dt.timedelta(days=30), by=by)
    return rack


def make_mornings(
    rack: dict[str, Reference],
    control: Analyzer,
    now: dt.datetime,
    people: tuple[Person, Person],
    chance: random.Random,
) -> None:
    """Do the morning check of the last twenty working days and of today, as the services do it."""
    shop = Shop.here()
    days = [*workdays_before(now.date(), 20), now.date()]
    for number, day in enumerate(days):
        at = min(dt.datetime.combine(day, dt.time(7, 50, chance.randint(0, 59)), now.tzinfo), now)
        entry = MorningEntry(
            day=day,
            station=None,
            analyzer=control,
            room_co_ppm=float(chance.choice([0, 0, 0, 1])),
            vent_ok=True,
            regulator_ok=True,
            lines=tuple(_lines(rack, control, at, number, chance)),
        )
        record_morning(entry, people[number % 2], at, shop)


def _lines(
    rack: dict[str, Reference], control: Analyzer, at: dt.datetime, number: int, chance: random.Random
) -> list[Any]:
    """Read each bottle that is in use: a healthy unit whose CO cell loses a little from day to day."""
    profile = shipped_profile(control.profile)
    lines = []
    for reference in rack.values():
        if reference.kind != "test-gas" or reference.state != "in-use":
            continue
        for channel in channels_for(reference, profile):
            part = reference.content["components"].get(channel.name)
            value = float(part["value"]) if part else 0.0
            gain = 1.0 if channel.name == "o2" else 0.994 - 0.0003 * number
            shown = max(round((value * gain + chance.gauss(0, 0.4) * channel.step) / channel.step) * channel.step, 0.0)
            lines.append(control_line(control, reference, channel, [round(shown, 3)] * 2, at))
    return lines
