"""Where air comes in: every state of a place and every word for the leak. Own derivation; no prior enters."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer.gas_path.evidence import Evidence, PathTest, evidence_of
from flueproof.analyzer.gas_path.location import excess_state, locate_leak, probe_state
from flueproof.analyzer.gas_path.products import fit_products

LIMIT = 0.01
CO_GAIN = 0.97


def plug(saw, feed):
    return evidence_of(PathTest("p", "plug-test", feed, saw=saw), pump_flow_l_min=0.9, leak_limit=LIMIT, volume_ml=None)


def bulb(saw):
    return evidence_of(
        PathTest("b", "bulb-test", "tip", saw=saw), pump_flow_l_min=0.9, leak_limit=LIMIT, volume_ml=None
    )


@pytest.fixture(name="found")
def _found(both_gases):
    """Locate from products at feeds (O2 product; CO follows with a gain of its own) and tightness tests."""

    def locate(*tests, **p_o2):
        seen = [one for feed, p in p_o2.items() for one in both_gases(p, p * CO_GAIN, feed.replace("_", "-"))]
        return locate_leak(fit_products(seen), tests, LIMIT)

    return locate


def states(finding):
    return finding.leak, finding.probe.state, finding.instrument.state, finding.whole.state


def test_o2_free_gas_near_zero_at_the_tip_shows_all_tight(found):
    assert states(found(tip=0.999)) == ("none", "tight", "tight", "tight")


def test_tip_against_instrument_shows_the_probe(found):
    finding = found(tip=0.94, instrument=0.999)
    assert states(finding) == ("probe", "leak", "tight", "cannot-tell")
    assert finding.probe.dilution.value == pytest.approx(0.0591, abs=1e-3)
    assert finding.probe.ratio >= 10.0


def test_air_behind_the_inlet_alone_cannot_be_told_from_an_o2_zero_error(found):
    assert states(found(tip=0.95, instrument=0.95)) == ("cannot-tell", "tight", "cannot-tell", "cannot-tell")


def test_a_plug_at_the_inlet_that_leaks_shows_the_instrument(found):
    assert states(found(plug("runs-on", "instrument"), tip=0.95, instrument=0.95))[:3] == (
        "instrument",
        "tight",
        "leak",
    )


def test_a_plug_at_the_inlet_that_holds_shows_an_o2_zero_error(found):
    assert states(found(plug("stalls", "instrument"), tip=0.95, instrument=0.95))[:3] == ("none", "tight", "zero")


def test_a_plug_at_the_tip_that_holds_shows_an_o2_zero_error_behind_all_of_it(found):
    assert states(found(plug("stalls", "tip"), tip=0.95, instrument=0.95)) == ("none", "tight", "zero", "zero")


def test_a_leak_seen_at_the_tip_only_is_not_located(found):
    assert states(found(plug("runs-on", "tip"), tip=0.94)) == ("unlocated", "unknown", "unknown", "leak")


def test_a_leaking_whole_with_a_tight_instrument_is_the_probe(found):
    finding = found(plug("runs-on", "tip"), plug("stalls", "instrument"), tip=0.94)
    assert states(finding)[:3] == ("probe", "leak", "tight")


def test_a_dilution_at_the_limit_is_too_close(found):
    finding = found(tip=0.99, instrument=0.99)
    assert states(finding) == ("cannot-tell", "tight", "close", "close")


def test_tight_gas_and_a_leaking_plug_contradict_each_other(found):
    finding = found(plug("runs-on", "tip"), tip=0.9995)
    assert finding.whole.state == "close"
    assert "contradict" in finding.whole.why
    assert finding.leak == "cannot-tell"


def test_a_test_that_says_little_leaves_the_question_open(found):
    weak = Evidence("p", "plug-test", "instrument", 5.0, "the pump only slows")
    assert states(found(weak, tip=0.95, instrument=0.95))[2] == "cannot-tell"


def test_both_parts_may_leak(found):
    finding = found(plug("runs-on", "instrument"), tip=0.90, instrument=0.95)
    assert (finding.leak, finding.probe.state, finding.instrument.state) == ("probe", "leak", "leak")


def test_a_bulb_speaks_of_the_probe_assembly_alone():
    assert probe_state(None, [bulb("fills")], LIMIT).state == "leak"
    assert probe_state(None, [bulb("flat")], LIMIT).state == "tight"
    assert excess_state("tip", None, [bulb("fills")], LIMIT).state == "unknown"


@pytest.mark.parametrize(("saw", "state"), [("stalls", "tight"), ("runs-on", "leak"), ("slows", "close")])
def test_a_plug_without_gas_speaks_for_itself(saw, state):
    assert excess_state("tip", None, [plug(saw, "tip")], LIMIT).state == state


def test_a_plug_at_the_tip_without_gas_shows_the_whole_path_tight():
    assert locate_leak(None, [plug("stalls", "tip")], LIMIT).leak == "none"


def test_nothing_done_tells_nothing():
    finding = locate_leak(None, [], LIMIT)
    assert states(finding) == ("cannot-tell", "unknown", "unknown", "unknown")


@pytest.mark.parametrize("joint", ["handle", "hose", "after_trap"])
def test_feeding_further_down_names_the_stretch_that_leaks(found, joint):
    downstream = dict.fromkeys(("handle", "hose", "after_trap"), 0.999)
    for name in downstream:
        if name == joint:
            break
        downstream[name] = 0.94
    finding = found(tip=0.94, **downstream, instrument=0.999)
    assert finding.leak == "probe"
    assert finding.between[1] == joint.replace("_", "-")


def test_two_feeds_alone_name_no_stretch(found):
    assert found(tip=0.94, instrument=0.999).between is None


def test_a_leak_in_the_probe_hides_nothing_of_an_o2_zero_behind_it(found):
    finding = found(tip=0.90, instrument=0.95)
    assert states(finding)[:3] == ("probe", "leak", "cannot-tell")


@given(leak=st.floats(0.03, 0.4), gain=st.floats(0.4, 1.2))
def test_a_leaking_probe_before_a_tight_instrument_is_found_whatever_the_cell(leak, gain):
    finding = locate_leak(_products(1 - leak, gain), [], LIMIT)
    assert finding.leak == "probe"


@given(shortfall=st.floats(0.03, 0.4), gain=st.floats(0.4, 1.2))
def test_no_amount_of_gas_at_both_feeds_calls_the_instrument_a_leak_or_tight(shortfall, gain):
    """The products alone do not tell (bench record, what the unit's own zeroing hides)."""
    finding = locate_leak(_products(1 - shortfall, gain, inside=1 - shortfall), [], LIMIT)
    assert finding.leak == "cannot-tell"
    assert finding.instrument.state == "cannot-tell"


def _products(outer, gain, inside=1.0):
    from flueproof.analyzer.gas_path.observation import GasObservation

    def pair(feed, p_o2):
        o2 = GasObservation("s", feed, "o2", 0.0, 0.006, 20.9 * (1 - p_o2), 0.02, 0.03, "b", set_to=20.9)
        return [o2, GasObservation("s", feed, "co", 502.0, 2.5, 502.0 * gain * p_o2, 0.5, 2.0, "b")]

    return fit_products([*pair("tip", outer), *pair("instrument", inside)])
