"""What is left in a cylinder: the last gauge reading, less what tests took since; and what a test costs."""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Final

from django.db import transaction

from flueproof.shop.records.gas.as_certified import gas_equation
from flueproof.shop.records.models import Application, GasUse, GaugeReading, Person, Reference
from flueproof.testgas.cylinder import FREE_C, gauge_holding, litres_left, usable_litres
from flueproof.testgas.errors import CylinderError

USUAL_TEST_L: Final = 2.7  # common practice, no source: 1.5 times a pump of 0.9 L/min, on for two minutes
_USES_FOR_A_MEAN: Final = 5
_USES_LOOKED_AT: Final = 20
_CENT: Final = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Left:
    """What a cylinder still gives.

    litres: free gas above the lowest allowed pressure [L], None where volume or pressure is not known; tests: whole
    tests in it; kpa: gauge pressure that belongs to it, at 21.1 degC [kPa]; cost: of one test, in the shop's money,
    None where price or volume is not known; share: of a full bottle [-]; rests_on: which of gauge and count this
    rests on, in words; litres_per_test [L]; gauge_kpa: what the gauge showed last [kPa], None without a reading;
    counted_tests, counted_l: tests since then (or since it was new), and their litres [L].
    """

    litres: float | None
    tests: int | None
    kpa: float | None
    cost: Decimal | None
    share: float | None
    rests_on: str
    litres_per_test: float
    gauge_kpa: float | None = None
    counted_tests: int = 0
    counted_l: float = 0.0


def left(reference: Reference, now: datetime, litres_per_test: float | None = None) -> Left:
    """Return what is left in a cylinder at a time.

    litres_per_test: what a test takes [L]; without it the middle of this cylinder's last tests, or the usual 2.7 L.
    Source: testgas.cylinder (real gas); count: flow x time of each test.
    """
    per_test = litres_per_test or litres_of_a_test(reference)
    cost = cost_of(reference, per_test)
    volume = reference.water_volume_l
    gauge = reference.gauge_readings.filter(at__lte=now).order_by("-at", "-id").first()
    kpa, room_c = (gauge.kpa, gauge.room_c) if gauge else (reference.fill_kpa, FREE_C)
    if volume is None or kpa is None:
        missing = "water volume" if volume is None else "gauge reading"
        return Left(None, None, kpa, cost, None, f"not known: the {missing} is missing", per_test)
    uses = reference.uses.filter(at__lte=now)
    counted = list((uses.filter(at__gt=gauge.at) if gauge else uses).values_list("litres", flat=True))
    gas = gas_equation(reference)
    usable = max(0.0, usable_litres(kpa, volume, room_c, gas, minimum_kpa=reference.minimum_kpa) - sum(counted))
    inside = max(0.0, litres_left(kpa, volume, room_c, gas) - sum(counted))
    full = full_litres(reference)
    return Left(
        litres=usable,
        tests=math.floor(usable / per_test + 1e-9),
        kpa=gauge_holding(inside, volume, FREE_C, gas),
        cost=cost,
        share=min(1.0, usable / full) if full else None,
        rests_on=basis_in_words(f"{gauge.kpa:,.0f} kPa" if gauge else "", len(counted), sum(counted)),
        litres_per_test=per_test,
        gauge_kpa=gauge.kpa if gauge else None,
        counted_tests=len(counted),
        counted_l=sum(counted),
    )


def basis_in_words(gauge: str, count: int, litres: float) -> str:
    """Return what a figure of litres left rests on: the gauge as text ("" without a reading), less what was counted."""
    base = f"the gauge, {gauge}" if gauge else "counted from the pressure when new; no gauge reading yet"
    if not count:
        return base
    return f"{base}, less {litres:.1f} L counted in {count} {'test' if count == 1 else 'tests'} since"


def litres_of_a_test(reference: Reference) -> float:
    """Return what a test takes from this cylinder [L]: the middle of its last uses, the usual figure for a new one."""
    last = list(reference.uses.order_by("-at", "-id").values_list("litres", flat=True)[:_USES_LOOKED_AT])
    return statistics.median(last) if len(last) >= _USES_FOR_A_MEAN and statistics.median(last) > 0 else USUAL_TEST_L


def full_litres(reference: Reference) -> float | None:
    """Return what a full cylinder gives down to the lowest allowed pressure [L], None where that is not known."""
    if reference.water_volume_l is None or reference.fill_kpa is None:
        return None
    gas = gas_equation(reference)
    usable = usable_litres(reference.fill_kpa, reference.water_volume_l, FREE_C, gas, minimum_kpa=reference.minimum_kpa)
    return usable or None


def cost_of(reference: Reference, litres: float) -> Decimal | None:
    """Return what litres from a cylinder cost, to the cent; None where price, volume or fill is not known.

    The price is spread over the litres that a full cylinder gives down to its lowest allowed pressure.
    """
    full = full_litres(reference)
    if reference.price is None or full is None:
        return None
    return (reference.price * Decimal(repr(litres)) / Decimal(repr(full))).quantize(_CENT)


def record_use(
    reference: Reference, litres: float, now: datetime, application: Application | None = None, what: str = ""
) -> GasUse:
    """Keep what a test took and return it; an application takes from one cylinder once.

    Raises: CylinderError for litres that cannot be.
    """
    if not (math.isfinite(litres) and 0.0 <= litres <= 10_000.0):
        raise CylinderError(f"{litres!r} L cannot be what a test took. Check flow and time.")
    with transaction.atomic():
        Reference.objects.select_for_update().get(pk=reference.pk)
        if application is not None:
            taken: GasUse | None = GasUse.objects.filter(application=application, reference=reference).first()
            if taken is not None:
                return taken
        return GasUse.objects.create(reference=reference, litres=litres, at=now, application=application, what=what)


def record_gauge(reference: Reference, kpa: float, room_c: float, by: Person, now: datetime) -> GaugeReading:
    """Keep what the gauge showed at the room's temperature; below the lowest allowed pressure the cylinder is empty.

    A mistyped reading is mended by a right one: then an empty cylinder is in use again.

    kpa: above the room [kPa]; room_c [degC]. The same from the same person within a minute is one reading.
    Raises: CylinderError outside the range of the gas equation, with nothing written.
    """
    with transaction.atomic():
        row: Reference = Reference.objects.select_for_update().get(pk=reference.pk)
        gas = gas_equation(row)
        litres_left(kpa, row.water_volume_l or 1.0, room_c, gas)
        last = row.gauge_readings.order_by("-id").first()
        if last is not None and _same_press(last, kpa, room_c, by, now):
            return last
        reading = GaugeReading.objects.create(reference=row, kpa=kpa, room_c=room_c, at=now, by=by)
        usable = usable_litres(kpa, row.water_volume_l or 1.0, room_c, gas, minimum_kpa=row.minimum_kpa)
        state = {"in-use": "empty" if usable <= 0.0 else "in-use", "empty": "in-use" if usable > 0.0 else "empty"}
        if state.get(row.state, row.state) != row.state:
            row.state = state[row.state]
            row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
            row.save()
    return reading


def _same_press(last: GaugeReading, kpa: float, room_c: float, by: Person, now: datetime) -> bool:
    return (last.kpa, last.room_c, last.by_id) == (kpa, room_c, by.pk) and now - last.at < timedelta(minutes=1)
