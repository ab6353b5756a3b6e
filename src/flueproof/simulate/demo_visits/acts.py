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
    """Do both feeds, then what tells a leak inside from an O2 zero: plug, vacuum and pinch at the inlet."""
    tip_and_instrument(visit)
    visit.plug_test("instrument")
    visit.vacuum_hold("instrument")
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


def air_first(visit: BenchVisit) -> None:
    """Look at room air after the zeroing, then do the required points and both feeds."""
    visit.ambient_air()
    tip_and_instrument(visit)


def wide_bottle(visit: BenchVisit) -> None:
    """Do the required points with the only bottle there is, twice at the tip."""
    do_points(visit, also=("air-one",))
    visit.test_gas(visit.bottles_with("co")[0], "tip")


def expired_bottle(visit: BenchVisit) -> None:
    """Do the required points with the only bottle there is; nobody looked at its date."""
    do_points(visit, also=("air-one",))


def second_draft_point(visit: BenchVisit) -> None:
    """Do the required points and a second draft point."""
    only_required(visit)
    visit.pressure("mano-1", -100.0)


def without_probe(visit: BenchVisit) -> None:
    """Do at the instrument what can be done without the owner's path; simulate the stack temperature at the socket."""
    do_points(visit, also=("air-one",), leave_out=("stack-hot",), feed="instrument")
    visit.temperature("therm-1", 200.0, "stack", "socket")


def adjusted(visit: BenchVisit) -> None:
    """Adjust CO on the bottle at the instrument, then do all gas points as left, with a second bottle too."""
    tip_and_instrument(visit)
    visit.adjust("co", CO_BOTTLE)
    visit.as_left()
    do_points(visit, also=("air-one",))
    visit.test_gas("cyl-co-o2", "tip")


def new_co_cell(visit: BenchVisit) -> None:
    """Find the CO cell dead, replace it, let it settle over noon, adjust it and do all points at three contents."""
    tip_and_instrument(visit)
    healthy = replace(visit.truth, dead=frozenset(), gain={**visit.truth.gain, "co": 1.06})
    visit.part("co cell", healthy, serial="CO-N-551", opened_case=True)
    visit.wait(60.0 * visit.profile.cells["co"].settle_hours)
    visit.zeroing()
    visit.adjust("co", CO_BOTTLE)
    visit.as_left()
    do_points(visit, also=("air-one",))
    visit.test_gas("can-co-100", "tip")
    visit.test_gas("cyl-co-o2", "tip")


def mended_probe(visit: BenchVisit) -> None:
    """Find a leak in the probe, cut the hose back, prove the path tight."""
    tip_and_instrument(visit)
    visit.part("probe hose", replace(visit.truth, dilution_probe=0.0005))
    visit.as_left()
    do_points(visit, also=("air-one",))
    visit.bulb_test()


def struck_and_repeated(visit: BenchVisit) -> None:
    """Feed too little gas, notice it, strike the step and do it again with the vent flowing."""
    wrong = visit.test_gas(CO_BOTTLE, "tip", supply_l_min=0.6)
    visit.happening("strike", strikes=wrong, why="no gas left at the vent: supply below the pump's flow")
    only_required(visit)
