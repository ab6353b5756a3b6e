"""The demo's visits: what is true, what is done, and what that calls for."""

from __future__ import annotations

from flueproof.simulate import demo_acts as acts
from flueproof.simulate.bench_visit import Style
from flueproof.simulate.demo import DemoCase, ExpectedAction
from flueproof.simulate.truth import StepResponse, Truth

TRACED = Style(traced=True)
TYPED_US = Style(us_units=True)
TRACED_US = Style(traced=True, us_units=True)

MEND_PROBE = (ExpectedAction("mend-path", where="probe"), ExpectedAction("check-path"))
MEND_INSTRUMENT = (ExpectedAction("mend-path", where="instrument"), ExpectedAction("check-path"))
WITH_O2 = ("cyl-co-500", "cyl-co-o2", "therm-1", "therm-air", "mano-1")
SLOW_O2 = StepResponse(dead_s=6.0, tau_s=20.0, tail_share=0.03, tail_tau_s=90.0)
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
    DemoCase(
        "co-cell-dead", "CO cell dead", acts.tip_and_instrument, "work-needed",
        Truth(dead=frozenset({"co"}), o2_zero_pct=0.05), (ExpectedAction("replace-cell", channel="co"),), owner="northgate",
    ),
    DemoCase(
        "o2-cell-at-its-end", "O2 cell at its end: 20.9 cannot be set", acts.air_first, "work-needed",
        Truth(gain={"co": 0.97}, o2_output=0.50, o2_zero_pct=0.05, responses={"o2": SLOW_O2}),
        (ExpectedAction("replace-cell", channel="o2"),), references=WITH_O2, style=TRACED, by="osei",
    ),
    DemoCase(
        "o2-residual-current", "O2 cell with a residual current, path tight", acts.with_instrument_tests, "work-needed",
        Truth(gain={"co": 0.98}, o2_zero_pct=0.9), (ExpectedAction("replace-cell", channel="o2"),), owner="kestrel",
    ),
    DemoCase(
        "leak-or-zero", "Leak inside or O2 zero: nothing was done that could tell", acts.no_tightness_test,
        "work-needed", Truth(gain={"co": 0.98}, dilution_instrument=0.04), (ExpectedAction("separate"),), "cannot-tell",
        style=TYPED_US,
    ),
    DemoCase(
        "leak-and-co-cell-low", "Leak in the probe and CO cell low", acts.tip_and_instrument, "work-needed",
        Truth(gain={"co": 0.80}, dilution_probe=0.07), (*MEND_PROBE, ADJUST_CO), "probe", style=TRACED_US,
        owner="fernhill",
    ),
    DemoCase(
        "air-sensor-missing", "Air sensor broken off", acts.only_required, "work-needed",
        Truth(gain={"co": 0.99}, missing=frozenset({"air"})), (ExpectedAction("mend-sensor", channel="air"),),
        condition="air sensor broken off at its plug", enclosed=("probe", "hose", "trap", "air sensor (broken)"),
    ),
    DemoCase(
        "draft-off", "Draft reads too little", acts.second_draft_point, "work-needed",
        Truth(gain={"co": 0.98}, draft_gain=0.80), (ExpectedAction("mend-sensor", channel="draft"),), owner="northgate",
    ),
    DemoCase(
        "too-close-to-call", "Near the limit with a poor bottle", acts.wide_bottle, "work-needed",
        Truth(gain={"co": 0.93}), (ExpectedAction("better-reference", channel="co"),),
        references=("can-co-400-wide", "therm-1", "therm-air", "mano-1"), rule="guarded-U", style=TRACED,
    ),
    DemoCase(
        "expired-cylinder", "Test gas past its date", acts.expired_bottle, "incomplete",
        Truth(gain={"co": 0.98}), (ExpectedAction("better-reference"),),
        references=("cyl-co-old", "therm-1", "therm-air", "mano-1"), owner="kestrel", style=TYPED_US,
    ),
    DemoCase(
        "adjusted", "CO adjusted, with as left", acts.adjusted, "work-needed",
        Truth(gain={"co": 0.84}), (ADJUST_CO,), expected_as_left="ready-to-sign", references=WITH_O2,
        style=TRACED_US, by="osei",
    ),
    DemoCase(
        "co-cell-replaced", "CO cell dead and replaced, with as left", acts.new_co_cell, "work-needed",
        Truth(dead=frozenset({"co"})), (ExpectedAction("replace-cell", channel="co"),),
        expected_as_left="ready-to-sign", references=(*WITH_O2, "can-co-100"), service="repair", owner="northgate",
    ),
    DemoCase(
        "probe-mended", "Leak in the probe mended, with as left", acts.mended_probe, "work-needed",
        Truth(gain={"co": 0.97}, dilution_probe=0.05), MEND_PROBE, "probe", expected_as_left="ready-to-sign",
        service="repair", style=TYPED_US,
    ),
    DemoCase(
        "no-probe-came", "No probe in the box", acts.without_probe, "limited",
        Truth(gain={"co": 0.99}), enclosed=("air sensor", "charger"), condition="no probe, no hose in the box",
        owner="fernhill",
    ),
    DemoCase(
        "verified-outside", "Verified only: CO outside limits", acts.tip_and_instrument, "outside-as-ordered",
        Truth(gain={"co": 0.80}), service="verify", style=TRACED, owner="kestrel",
    ),
    DemoCase(
        "struck-and-repeated", "A step struck out and done again", acts.struck_and_repeated, "ready-to-sign",
        Truth(gain={"co": 1.01}), style=TRACED, by="osei",
    ),
)
