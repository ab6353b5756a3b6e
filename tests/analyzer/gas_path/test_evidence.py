"""What tightness tests say: every row of data/path_evidence.toml (common practice, no source), and the vacuum hold."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer.gas_path.dilution import STRONGEST
from flueproof.analyzer.gas_path.evidence import (
    Evidence,
    PathTest,
    evidence_of,
    joined_ratio,
    path_evidence_table,
    pinched_evidence,
    strong_ratio,
)
from flueproof.analyzer.gas_path.products import fit_products

TABLE = path_evidence_table()
ROWS = [(kind, saw) for kind in ("plug-test", "bulb-test") for saw in TABLE[kind]]


def said(kind, *, feed="tip", volume_ml=None, limit=0.01, flow=0.9, **seen):
    test = PathTest("s1", kind, feed, **seen)
    return evidence_of(test, pump_flow_l_min=flow, leak_limit=limit, volume_ml=volume_ml)


@pytest.mark.parametrize(("kind", "saw"), ROWS)
def test_every_row_of_the_table_gives_its_ratio(kind, saw):
    row = TABLE[kind][saw]
    one = said(kind, saw=saw)
    assert one.ratio == pytest.approx(row["leak"] / row["tight"])
    assert (one.step, one.kind, one.feed) == ("s1", kind, "tip")
    assert "tip" in one.text


@pytest.mark.parametrize("state", ["tight", "leak"])
@pytest.mark.parametrize("kind", ["plug-test", "bulb-test", "hiss-after-10-s"])
def test_the_shares_of_a_test_are_those_of_all_it_can_show(kind, state):
    if kind == "plug-test":  # an alarm is what a unit with its own flow alarm shows instead of the pump's note
        rows = [TABLE[kind][saw][state] for saw in ("stalls", "slows", "runs-on")]
    else:
        rows = [row[state] for row in TABLE[kind].values()]
    assert sum(rows) == pytest.approx(1.0, abs=0.03)


def test_a_stalling_pump_and_a_hiss_are_one_look_at_one_seal():
    stall, with_hiss = said("plug-test", saw="stalls"), said("plug-test", saw="stalls", hiss=True)
    assert with_hiss.ratio == stall.ratio
    assert "hiss after 10 s" in with_hiss.text


def test_a_hiss_weakens_a_pump_that_runs_on():
    alone, with_hiss = said("plug-test", saw="runs-on"), said("plug-test", saw="runs-on", hiss=True)
    assert with_hiss.ratio == pytest.approx(alone.ratio * 0.10 / 0.95)
    assert 1 / strong_ratio() < with_hiss.ratio < strong_ratio()


def test_no_hiss_strengthens_a_pump_that_only_slows():
    assert said("plug-test", saw="slows", hiss=False).ratio == pytest.approx(max(0.30 / 0.06, 0.90 / 0.05))


def test_a_hiss_alone_says_something():
    assert said("plug-test", hiss=False).ratio == pytest.approx(18.0)


@pytest.mark.parametrize(
    ("kind", "seen"), [("plug-test", {}), ("bulb-test", {}), ("pinched", {}), ("vacuum-hold", {"vacuum_kpa": (8.0,)})]
)
def test_a_test_without_an_answer_says_nothing(kind, seen):
    assert said(kind, **seen) is None


def hold(after_kpa, *, seconds=30.0, **more):
    return said("vacuum-hold", feed="instrument", vacuum_kpa=(8.0, after_kpa), times_s=(0.0, seconds), **more)


def test_a_hold_is_compared_with_the_leak_limit_by_the_ideal_gas_law():
    """Leak = V dp/(p0 dt); pattern: 40 CFR 1065.345. 80 mL, 30 s, 0.9 L/min, 1 % of flow: 5.70 kPa."""
    allowed_kpa = 0.01 * 0.9 * 0.5 * 101.325 / 0.080
    assert allowed_kpa == pytest.approx(5.70, abs=0.01)
    assert hold(8.0 - 0.99 * allowed_kpa, volume_ml=80.0).ratio == pytest.approx(TABLE["vacuum-hold"]["wrong"])
    assert hold(8.0 - 1.01 * allowed_kpa, volume_ml=80.0).ratio == pytest.approx(1 / TABLE["vacuum-hold"]["wrong"])


def test_a_hold_with_an_unknown_volume_speaks_only_where_every_volume_agrees():
    assert hold(7.9).ratio == pytest.approx(0.01)
    assert hold(1.0).ratio == 1.0  # tight behind 8 mL, leaking behind 80 mL


def test_a_vacuum_that_is_gone_is_a_leak_whatever_the_volume():
    assert hold(0.0).ratio == pytest.approx(100.0)
    assert hold(0.0, volume_ml=8.0).ratio == pytest.approx(100.0)


def test_text_on_the_gauge_is_left_out_of_a_hold():
    one = said("vacuum-hold", vacuum_kpa=(8.0, math.nan, 7.9), times_s=(0.0, 10.0, 30.0))
    assert one.ratio == pytest.approx(0.01)
    assert said("vacuum-hold", vacuum_kpa=(8.0, math.nan), times_s=(0.0, 10.0)) is None


def pinched(o2, p_free, p_pinched):
    seen = [o2(p_free, feed="instrument"), o2(p_pinched, feed="instrument-pinched")]
    return pinched_evidence(fit_products(seen), "s9")


def test_with_the_inlet_pinched_a_leak_grows_and_a_residual_current_does_not(o2):
    assert pinched(o2, 0.95, 0.85).ratio > strong_ratio()
    assert pinched(o2, 0.95, 0.95).ratio < 1 / strong_ratio()
    assert "5.00 % to 15.00 %" in pinched(o2, 0.95, 0.85).text


def test_pinching_says_nothing_where_no_air_was_seen_or_no_free_feed_was_done(o2):
    assert pinched(o2, 1.0, 0.99) is None
    assert pinched_evidence(fit_products([o2(0.95, feed="instrument")]), "s9") is None


@given(st.lists(st.floats(1e-9, 1e9), max_size=8))
def test_joined_evidence_is_the_bounded_product(ratios):
    joined = joined_ratio([Evidence("s", "plug-test", "tip", ratio, "") for ratio in ratios])
    assert 1 / STRONGEST <= joined <= STRONGEST
    assert joined == pytest.approx(min(max(math.prod(ratios), 1 / STRONGEST), STRONGEST))


def test_no_evidence_favors_neither():
    assert joined_ratio([]) == 1.0
