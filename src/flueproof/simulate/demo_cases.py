"""The demo's visits: what is true, what is done, and what that calls for."""

from __future__ import annotations

from flueproof.simulate import demo_acts as acts
from flueproof.simulate.bench_visit import Style
from flueproof.simulate.demo import DemoCase, ExpectedAction
from flueproof.simulate.truth import Truth

TRACED = Style(traced=True)
TYPED_US = Style(us_units=True)
TRACED_US = Style(traced=True, us_units=True)

MEND_PROBE = (ExpectedAction("mend-path", where="probe"), ExpectedAction("check-path"))
MEND_INSTRUMENT = (ExpectedAction("mend-path", where="instrument"), ExpectedAction("check-path"))
ADJUST_CO = ExpectedAction("adjust", channel="co")

DEMO_CASES: tuple[DemoCase, ...] = (
    DemoCase(
        "healthy", "Healthy, nothing to do", acts.only_required, "ready-to-sign",
        Truth(gain={"co": 0.985}, o2_zero_pct=0.03), style=TRACED_US,
        references=("cyl-co-500", "can-co-100", "therm-1", "therm-air", "mano-1"),
    ),
    DemoCase(
        "co-cell-low", "CO cell reads low", acts.tip_and_instrument, "work-needed",
        Truth(gain={"co": 0.82}, o2_zero_pct=0.02), (ADJUST_CO,), style=TYPED_US, owner="fernhill",
    ),
    DemoCase(
        "leak-in-probe", "Leak in the probe assembly", acts.tip_and_instrument, "work-needed",
        Truth(gain={"co": 0.98}, dilution_probe=0.06), MEND_PROBE, "probe", style=TRACED,
        owner="kestrel", condition="hose joint worn",
    ),
    DemoCase(
        "leak-in-instrument", "Leak in the instrument, shown by plug and pinch", acts.with_instrument_tests,
        "work-needed", Truth(gain={"co": 0.99}, dilution_instrument=0.06), MEND_INSTRUMENT, "instrument",
        by="osei",
    ),
    DemoCase(
        "thermocouple-off", "Thermocouple reads low", acts.probe_and_socket, "work-needed",
        Truth(gain={"co": 0.97}, probe_emf_error=-0.05),
        (ExpectedAction("mend-sensor", where="probe", channel="stack"),), style=TYPED_US, owner="fernhill",
    ),
)
