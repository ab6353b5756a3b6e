"""From steps to settled readings beside their references, in core units."""

import math

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import EMPTY_BUNDLE
from flueproof.bench.errors import RecordError
from flueproof.bench.judge.gathering import blend_contents, component_name, gas_reference, gather
from flueproof.bench.record.references import TestGas

PROFILE = shipped_profile("two-cell-residential")
INFRARED = shipped_profile("infrared-co2-co-high-range")


def gas(balance="nitrogen", **components):
    return TestGas.model_validate(
        {
            "kind": "test-gas",
            "number": "C-1",
            "certificate": "c",
            "balance": balance,
            "certified": "2026-01-01",
            "expires": "2028-01-01",
            "components": components,
        }
    )


CO = {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}


def test_an_expanded_uncertainty_is_divided_by_its_k():
    """JCGM 100:2008, 4.3.3."""
    found = gas_reference(gas(co=CO), "cyl", PROFILE.channels["co"])
    assert (found.value, found.u_certificate, found.kind, found.implied) == (502.0, 2.5, "normal", False)


def test_a_stated_accuracy_is_a_rectangle():
    """JCGM 100:2008, 4.3.7: half width over the root of three."""
    stated = {"unit": "ppm", "value": 100.0, "stated_accuracy_pct": 2.0}
    found = gas_reference(gas(co=stated), "can", PROFILE.channels["co"])
    assert found.u_certificate == pytest.approx(2.0 / math.sqrt(3.0))
    assert found.kind == "rectangular"
    assert "taken as rectangular" in found.stated


def test_a_content_in_per_cent_is_the_same_content():
    in_percent = {"unit": "%", "value": 0.0502, "expanded_uncertainty": 0.0005, "k": 2.0}
    found = gas_reference(gas(co=in_percent), "cyl", PROFILE.channels["co"])
    assert found.value == pytest.approx(502.0)
    assert found.u_certificate == pytest.approx(2.5)


@pytest.mark.parametrize("balance", ["nitrogen", "N2", " Nitrogen "])
def test_gas_without_o2_on_its_certificate_is_o2_free_within_its_purity(balance):
    found = gas_reference(gas(balance, co=CO), "cyl", PROFILE.channels["o2"])
    assert found.implied
    assert found.value == 0.0
    assert found.u_certificate == pytest.approx(0.01 / math.sqrt(3.0))


def test_gas_in_air_holds_the_o2_of_dry_air_less_what_is_mixed_in():
    found = gas_reference(
        gas("air", co2={"unit": "%", "value": 10.0, "stated_accuracy_pct": 2.0}), "c", PROFILE.channels["o2"]
    )
    assert found.value == pytest.approx(0.9 * 20.946)  # 20.946 %: dry air, physical value, from memory


def test_an_unknown_balance_says_nothing_of_o2():
    assert gas_reference(gas("methane", co=CO), "cyl", PROFILE.channels["o2"]) is None


def test_temperature_channels_have_no_gas():
    assert gas_reference(gas(co=CO), "cyl", PROFILE.channels["stack"]) is None


def test_the_high_range_measures_the_same_gas():
    assert component_name(INFRARED.channels["co_high"]) == "co"


def test_degrees_fahrenheit_and_inches_of_water_become_core_units(start, read):
    visit = start(us_units=True)
    visit.temperature("therm-1", 200.0)
    visit.pressure("mano-1", -25.0)
    stack, draft = gather(*read(visit), EMPTY_BUNDLE)
    assert (stack.unit, draft.unit) == ("degC", "Pa")
    assert stack.number == pytest.approx(200.0, abs=2.0)
    assert draft.number == pytest.approx(-25.0, abs=3.0)
    assert stack.reference.u_certificate == pytest.approx(0.15)
    assert stack.reference.u_source == pytest.approx(0.4)


def test_struck_steps_are_left_out(start, read):
    visit = start()
    visit.happening("strike", strikes=visit.test_gas("cyl-co-500", "tip"), why="wrong bottle")
    visit.test_gas("cyl-co-500", "tip")
    assert {one.step for one in gather(*read(visit), EMPTY_BUNDLE)} == {"s5"}


def test_room_air_has_no_reference(start, read):
    visit = start()
    visit.ambient_air()
    assert {one.reference for one in gather(*read(visit), EMPTY_BUNDLE)} == {None}


def test_clamped_and_snapped_displays_are_bounds_but_an_o2_of_zero_after_air_is_a_number(start, read, truth):
    visit = start(truth(dead=frozenset({"co"}), o2_zero_pct=0.0, repeatability=0.0, noise={"o2": 0.0, "co": 0.0}))
    visit.test_gas("cyl-co-500", "tip")
    visit.ambient_air()
    bounds = {(one.step, one.channel): one.settled.bound for one in gather(*read(visit), EMPTY_BUNDLE)}
    assert bounds == {("s3", "o2"): None, ("s3", "co"): "below", ("s4", "o2"): "snapped", ("s4", "co"): "below"}


def test_a_channel_that_the_profile_lacks_is_named_by_its_path(start, read):
    visit = start()
    visit.test_gas("cyl-co-500", "tip")
    visit.steps[-1]["readings"][1]["channel"] = "no2"
    with pytest.raises(RecordError) as refused:
        gather(*read(visit), EMPTY_BUNDLE)
    assert refused.value.path == "$.steps[2].readings[1].channel"
    assert "co" in refused.value.remedy


def test_the_contents_of_a_blend_come_in_channel_units(start, read):
    visit = start()
    visit.test_gas("cyl-co-o2", "tip")
    assert blend_contents(*read(visit)) == {"s3": {"co": 251.0, "o2": 4.02}}


def test_what_the_owner_would_have_read_at_the_hold_is_kept_beside(start, read):
    visit = start(traced=True)
    visit.test_gas("cyl-co-500", "tip")
    co = next(one for one in gather(*read(visit), EMPTY_BUNDLE) if one.channel == "co")
    shown = dict(zip(*(visit.steps[-1]["readings"][1][key] for key in ("t_s", "shown")), strict=True))
    assert co.displayed_at_hold == shown[125]  # gas on at 5 s, hold of 120 s
