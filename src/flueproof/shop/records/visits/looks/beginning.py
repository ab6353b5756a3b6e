"""Beginning a measurement from the bench page: what is asked for, whether it may be, and the plan it runs by."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.profile import Point, Profile
from flueproof.analyzer.units import to_core
from flueproof.bench.next_test.gases import SUPPLY_OVER_PUMP
from flueproof.shop.records.gas.admitting import find_by_code, refusal_of
from flueproof.shop.records.gas.litres import record_gauge
from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.models import Application, Person, Reference, Shop, Visit
from flueproof.shop.records.visits.applications import ApplicationError, begin_application
from flueproof.shop.records.visits.judged import Judged, judged
from flueproof.shop.records.visits.looks.target import display_of
from flueproof.testgas.cylinder import FREE_C
from flueproof.testgas.errors import CylinderError

TIMED_KINDS: Final = ("test-gas", "swap-test", "ambient-air", "temperature", "pressure", "vacuum-hold")
ON_THE_BENCH: Final = frozenset({"bench", "held", "parts"})
_WITH_REFERENCE: Final = frozenset({"test-gas", "swap-test", "temperature", "pressure"})


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a person wants to measure.

    kind: a timed step kind; point: id of the profile's point, "" for none; code: scan code of the reference; channels:
    what will be read, empty for what the kind reads; units: unit of the display per channel where it is another one
    than before; feed, probe: where and through whose probe; supply_l_min, gauge_kpa, vent_open, pinched: of the gas;
    of, value, unit: part under test and what the reference says (temperature, pressure).
    """

    kind: str
    point: str = ""
    code: str = ""
    channels: tuple[str, ...] = ()
    units: dict[str, str] = field(default_factory=dict)
    feed: str = ""
    probe: str = ""
    supply_l_min: float | None = None
    gauge_kpa: float | None = None
    vent_open: bool | None = None
    pinched: bool = False
    of: str = ""
    value: float | None = None
    unit: str = ""


def begin_wanted(visit: Visit, wanted: Wanted, by: Person, now: datetime, shop: Shop) -> Application:
    """Begin what a person wants to measure and return the application.

    Raises: ApplicationError with the reason in words; nothing is written then.
    """
    found = judged(visit)
    point = _point(found.profile, wanted)
    if why := refusal_to_begin(visit, now, shop):
        raise ApplicationError(why)
    reference = connected(wanted, point, found.profile, now)
    with transaction.atomic():
        made = begin_application(visit, plan_for(wanted, point, found, reference), reference, by, now)
        if reference is not None and wanted.gauge_kpa is not None:
            _keep_gauge(reference, wanted.gauge_kpa, found, by, now)
    return made


def _keep_gauge(reference: Reference, kpa: float, found: Judged, by: Person, now: datetime) -> None:
    """Keep what the bottle's gauge showed, at the room's temperature as logged last. Raises: ApplicationError."""
    airs = [one["air"] for one in found.tree["steps"] if one["kind"] == "room" and one.get("air")]
    room_c = float(to_core(float(airs[-1]["value"]), airs[-1]["unit"], "degC")) if airs else FREE_C
    try:
        record_gauge(reference, kpa, room_c, by, now)
    except CylinderError as error:
        raise ApplicationError(f"The gauge: {error}") from None


def refusal_to_begin(visit: Visit, now: datetime, shop: Shop) -> str:
    """Return why nothing may be measured at a visit now, whatever it is; "" when it may be."""
    if visit.job.state not in ON_THE_BENCH:
        return f"{visit.job} is {visit.job.get_state_display()!r}, not on the bench. Scan it at the bench first."
    return why_closed(timezone.localtime(now).date(), shop, visit.station)


def connected(wanted: Wanted, point: Point | None, profile: Profile, now: datetime) -> Reference | None:
    """Return the reference that was scanned.

    Raises: ApplicationError when it is unknown or may not be connected, or none was named where one is needed.
    """
    if wanted.kind not in _WITH_REFERENCE:
        return None
    if not wanted.code.strip():
        raise ApplicationError("Scan the cylinder or reference that is connected.")
    reference = find_by_code(wanted.code)
    if reference is None:
        raise ApplicationError(f"No cylinder or reference has the code {wanted.code.strip()!r}. Scan its label again.")
    day = timezone.localtime(now).date()
    channel = None if point is not None or not wanted.channels else wanted.channels[0]
    if why := refusal_of(reference, point=point, profile=profile, day=day, channel=channel):
        raise ApplicationError(why)
    return reference


def plan_for(wanted: Wanted, point: Point | None, found: Judged, reference: Reference | None) -> dict[str, Any]:
    """Return the plan of an application: all of its step but the readings.

    Raises: ApplicationError for a channel or unit that the analyzer does not have.
    """
    steps = found.tree["steps"]
    plan: dict[str, Any] = {
        "kind": wanted.kind,
        "phase": found.phase,
        "point": point.id if point is not None else None,
        "channels": [_channel(name, wanted, found.profile, steps) for name in _channels(wanted, point, found.profile)],
        "extra": _extra(wanted, point, reference),
    }
    if wanted.kind not in {"temperature", "pressure"}:
        place = wanted.feed or (point.feed if point is not None else "") or "tip"
        plan["path"] = {"feed": place, **({"probe": wanted.probe} if wanted.probe else {})}
    if wanted.kind in {"test-gas", "swap-test"}:
        plan["feed"] = _feed(wanted, found.profile)
    return plan


def _point(profile: Profile, wanted: Wanted) -> Point | None:
    if wanted.kind not in TIMED_KINDS:
        raise ApplicationError(f"A {wanted.kind or 'step without a kind'} is not timed; record it on the bench page.")
    if not wanted.point:
        return None
    point = next((one for one in profile.points if one.id == wanted.point), None)
    if point is None:
        raise ApplicationError(f"The procedure has no point {wanted.point!r}. Load the page anew.")
    return point


def _channels(wanted: Wanted, point: Point | None, profile: Profile) -> list[str]:
    if wanted.channels:
        unknown = [name for name in wanted.channels if name not in profile.channels and name != "vacuum"]
        if unknown:
            raise ApplicationError(f"This analyzer has no channel {unknown[0]!r}.")
        return list(wanted.channels)
    if wanted.kind in {"test-gas", "swap-test", "ambient-air"}:
        return [name for name, channel in profile.channels.items() if channel.measures_gas]
    return [point.channel] if point is not None and point.channel else []


def _channel(name: str, wanted: Wanted, profile: Profile, steps: list[dict[str, Any]]) -> dict[str, Any]:
    if name not in profile.channels:
        return {"channel": name, "unit": wanted.units.get(name, "kPa"), "step": 0.1}
    try:
        unit, step = display_of(name, profile, steps, wanted.units.get(name, ""))
    except UnitError as error:
        raise ApplicationError(str(error)) from None
    return {"channel": name, "unit": unit, "step": step}


def _feed(wanted: Wanted, profile: Profile) -> dict[str, Any]:
    flow = wanted.supply_l_min or round(SUPPLY_OVER_PUMP * profile.pump_flow_l_min.typical, 2)
    feed: dict[str, Any] = {"supply_l_min": flow}
    if wanted.vent_open is not None:
        feed["vent_open"] = wanted.vent_open
    if wanted.gauge_kpa is not None:
        feed["gauge_kpa_before"] = wanted.gauge_kpa
    if wanted.pinched:
        feed["pinched"] = True
    return feed


def _extra(wanted: Wanted, point: Point | None, reference: Reference | None) -> dict[str, Any]:
    if wanted.kind not in {"temperature", "pressure"} or reference is None:
        return {}
    channel = wanted.channels[0] if wanted.channels else (point.channel if point is not None else None)
    if wanted.value is None or not wanted.unit:
        raise ApplicationError("Enter what the reference shows, with its unit.")
    extra = {"channel": channel, "reference_value": {"unit": wanted.unit, "value": wanted.value}}
    if wanted.kind == "temperature":
        extra["of"] = wanted.of or (point.of if point is not None and point.of else "probe")
    return extra
