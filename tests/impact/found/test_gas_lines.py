"""Lines of a unit that does not set its O2 in air: a constant zero, or a leak; both where it cannot be told."""

import dataclasses

import pytest

from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge
from flueproof.analyzer.gas_path.products import fit_products
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.found.field_errors import ChannelFinding, FieldErrors
from flueproof.impact.found.gas_lines import gas_hypotheses
from flueproof.impact.found.lines import O2_OFFSET, O2_SLOPE
from flueproof.impact.found.products import honest_covariance, product_at


def not_set_in_air():
    profile = shipped_profile("two-cell-residential")
    o2 = dataclasses.replace(profile.channels["o2"], set_to=None, zeroed_in_air=False, snap_to=None)
    return dataclasses.replace(profile, channels={**profile.channels, "o2": o2})


def o2_on_gas(content, shown, **more):
    return GasObservation("s1", "tip", "o2", content, 0.01, shown, 0.02, 0.02, f"bottle-{content}", **more)


def hypotheses(leak, *observations):
    products = fit_products(observations, [ZeroKnowledge("o2", 0.0, 3.0)])
    return gas_hypotheses(products, not_set_in_air(), "tip", leak, 0.0, "as-found")


def errors_with(found):
    findings = {name: ChannelFinding("measured") for name in ("o2", "co", "no", "stack", "air")}
    return FieldErrors(tuple(found), None, None, None, {}, {}, findings, "cannot-tell")


def test_a_zero_error_acts_as_a_constant():
    (one,) = hypotheses("none", o2_on_gas(0.0, 1.0))
    assert one.lines.value(O2_SLOPE) == 1.0
    assert one.lines.value(O2_OFFSET) == pytest.approx(1.0, abs=0.01)


def test_a_leak_leaves_air_as_it_is():
    (one,) = hypotheses("probe", o2_on_gas(0.0, 1.0))
    assert one.lines.value(O2_SLOPE) * 20.9 + one.lines.value(O2_OFFSET) == pytest.approx(20.9)


def test_where_it_cannot_be_told_the_wider_answer_holds_both(gas):
    both = hypotheses("cannot-tell", o2_on_gas(0.0, 1.0))
    assert len(both) == 2
    readings = field_readings(o2_pct=8.0, co_ppm=100.0)
    wide = correct(readings, errors_with(both), gas)["o2_pct"]
    assert wide.u[0] > 0.0
    for one in both:
        alone = correct(readings, errors_with([one]), gas)["o2_pct"]
        assert wide.low[0] <= alone.low[0] + 1e-9
        assert alone.high[0] <= wide.high[0] + 1e-9
    # as if 1.0 was the zero: 7.0; as if it was a leak: 20.9 - 12.9/0.952 = 7.35
    assert wide.low[0] < 7.0
    assert wide.high[0] > 7.35


def test_two_gases_tell_slope_and_constant():
    (one,) = hypotheses("cannot-tell", o2_on_gas(0.0, 1.0), o2_on_gas(10.0, 10.5))
    assert one.lines.value(O2_SLOPE) == pytest.approx(0.95, abs=0.01)


def test_readings_that_scatter_too_much_widen_the_covariance():
    products = fit_products([o2_on_gas(0.0, 0.0, set_to=20.9), o2_on_gas(0.0, 1.0, set_to=20.9)])
    assert honest_covariance(products)[0, 0] > 100 * products.covariance[0, 0]


def test_a_channel_without_any_product_has_none():
    products = fit_products([o2_on_gas(0.0, 0.0, set_to=20.9)])
    assert product_at(products, "co", "tip") is None
