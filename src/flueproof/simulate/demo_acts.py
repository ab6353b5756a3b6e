"""What the bench does on the demo's visits, after the room log and the switch-on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from flueproof.simulate.procedure import do_points

if TYPE_CHECKING:
    from flueproof.simulate.bench_visit import BenchVisit

CO_BOTTLE = "cyl-co-500"


def only_required(visit: BenchVisit) -> None:
    """Do the required points and hold the air sensor against the thermometer."""
    do_points(visit, also=("air-one",))


def tip_and_instrument(visit: BenchVisit) -> None:
    """Do the required points, then the CO bottle straight at the instrument."""
    do_points(visit, also=("air-one",))
    visit.test_gas(CO_BOTTLE, "instrument")


def with_instrument_tests(visit: BenchVisit) -> None:
    """Do both feeds, then what tells a leak inside from an O2 zero: plug at the inlet and the inlet pinched."""
    tip_and_instrument(visit)
    visit.plug_test("instrument")
    visit.test_gas(CO_BOTTLE, "instrument", pinched=True)


def no_tightness_test(visit: BenchVisit) -> None:
    """Do both feeds on gas, but nothing that could tell a leak inside from an O2 zero."""
    do_points(visit, also=("air-one",), leave_out=("path-tight",))
    visit.test_gas(CO_BOTTLE, "instrument")


def probe_and_socket(visit: BenchVisit) -> None:
    """Do the required points, then judge probe and meter apart: a second hot point, and a simulator at the socket."""
    only_required(visit)
    visit.temperature("therm-1", 120.0, "stack", "probe")
    visit.temperature("therm-1", 200.0, "stack", "socket")
