"""Products of gain and dilution: exact recovery, covariance, what a bottle keeps and what cancels. Own derivation."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.analyzer.gas_path.dilution import between_feeds
from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge
from flueproof.analyzer.gas_path.products import SUPPLIER_SHARE, fit_products

ZERO = ZeroKnowledge("co", 0.0, 0.01)
FRACTIONS = st.floats(0.0, 0.3)


def o2_seen(product, gas, feed="tip"):
    return GasObservation("s1", feed, "o2", gas, 0.006, 20.9 - product * (20.9 - gas), 0.01, 0.0, "b1", set_to=20.9)


def co_seen(product, gas, feed="tip", bottle="b1", zero=0.0, u=0.5, u_gas=2.5, **more):
    return GasObservation("s1", feed, "co", gas, u_gas, product * gas + zero, u, 0.0, bottle, **more)


@given(leak=FRACTIONS, zero_error=st.floats(0.0, 3.0), gain=st.floats(0.3, 1.3))
def test_exact_readings_give_back_both_products(leak, zero_error, gain):
    p_o2, p_co = (1 - zero_error / 20.9) * (1 - leak), gain * (1 - leak)
    found = fit_products([o2_seen(p_o2, 0.0), co_seen(p_co, 502.0), o2_seen(p_o2, 4.0)], [ZERO])
    assert found.value("o2", "tip") == pytest.approx(p_o2, rel=1e-9)
    assert found.value("co", "tip") == pytest.approx(p_co, rel=1e-6)
    assert found.chi_square == pytest.approx(0.0, abs=1e-9)


@given(leak=FRACTIONS, gain=st.floats(0.5, 1.2))
def test_a_leak_and_an_o2_zero_error_with_the_same_products_cannot_be_told(leak, gain):
    zero_error = 20.9 * leak
    as_leak = fit_products([o2_seen(1 - leak, 4.0), co_seen(gain * (1 - leak), 251.0)])
    as_zero = fit_products([o2_seen(1 - zero_error / 20.9, 4.0), co_seen(gain * (1 - leak), 251.0)])
    assert as_leak.values == pytest.approx(as_zero.values, abs=1e-12)
    assert as_leak.covariance == pytest.approx(as_zero.covariance, rel=1e-9)


@given(offset=st.floats(-30.0, 30.0), gain=st.floats(0.7, 1.2))
def test_two_contents_tell_a_constant_shortfall_from_a_proportional_one(offset, gain):
    seen = [co_seen(gain, 502.0, zero=offset), co_seen(gain, 100.0, zero=offset, bottle="b2", u_gas=0.5)]
    found = fit_products(seen, [ZeroKnowledge("co", 0.0, 1e6)])
    assert found.value("co", "zero") == pytest.approx(offset, abs=1e-4)
    assert found.value("co", "tip") == pytest.approx(gain, abs=1e-6)


def test_one_content_leaves_the_zero_to_what_the_room_says():
    found = fit_products([co_seen(0.9, 502.0, zero=-12.0)], [ZeroKnowledge("co", -12.0, 1.0)])
    assert found.value("co", "zero") == pytest.approx(-12.0)
    assert found.value("co", "tip") == pytest.approx(0.9)
    assert found.u("co", "zero") == pytest.approx(1.0)
    assert found.u("co", "tip") > 1.0 / 502.0  # the zero's uncertainty is part of the product's


def test_the_bottle_cancels_between_two_feeds():
    def u_between(u_gas, second="b1"):
        seen = [co_seen(0.93, 502.0, "tip", u_gas=u_gas), co_seen(0.98, 502.0, "instrument", second, u_gas=u_gas)]
        return between_feeds(fit_products(seen), "tip", "instrument").u

    assert u_between(25.0) == pytest.approx(u_between(1e-6), rel=1e-3)
    assert u_between(25.0, "b2") > 20 * u_between(25.0)


@pytest.mark.parametrize("repeats", [1, 2, 8])
def test_a_repeat_on_one_bottle_does_not_shrink_the_bottles_share(repeats):
    """JCGM 100:2008, 5.2.2 and F.1.2.3: what is common stays, what differs shrinks."""
    found = fit_products([co_seen(0.98, 502.0, u=3.0)] * repeats)
    expected = (3.0 / 502.0) ** 2 / repeats + (0.98 * 2.5 / 502.0) ** 2
    assert found.u("co", "tip") ** 2 == pytest.approx(expected, rel=1e-6)


def test_bottles_of_one_supplier_share_a_part_of_their_error():
    def variance(**suppliers):
        first = co_seen(1.0, 500.0, u=1e-6, supplier=suppliers.get("first"))
        second = co_seen(1.0, 500.0, bottle="b2", u=1e-6, supplier=suppliers.get("second"))
        return fit_products([first, second]).u("co", "tip") ** 2

    alone = (2.5 / 500.0) ** 2
    assert variance(first="a", second="b") == pytest.approx(alone / 2, rel=1e-4)
    assert variance(first="a", second="a") == pytest.approx(alone * (1 + SUPPLIER_SHARE) / 2, rel=1e-4)


def test_canisters_of_one_lot_are_one_error():
    """Two canisters with one lot certificate tell no more of the gas than one (JCGM 100:2008, F.1.2.3)."""
    lot = [co_seen(1.0, 500.0, bottle=name, u=0.01, cause="lot L-81") for name in ("can-1", "can-2")]
    assert fit_products(lot).u("co", "tip") == pytest.approx(2.5 / 500.0, rel=1e-4)


def test_a_gas_without_the_component_shows_cross_sensitivity():
    clean, foreign = co_seen(0.98, 502.0), co_seen(0.0, 0.0, zero=60.0, bottle="b2", u_gas=0.6, others={"no": 250.0})
    found = fit_products([clean, foreign], [ZERO])
    assert found.value("co", "on:no") == pytest.approx(60.0 / 250.0, rel=1e-3)
    assert found.value("co", "tip") == pytest.approx(0.98, rel=1e-3)


def test_a_blend_that_holds_both_gases_cannot_tell_cross_sensitivity_from_gain():
    found = fit_products([co_seen(0.98, 502.0, others={"no": 250.0})], [ZERO])
    assert not found.has("co", "on:no")
    assert found.feeds("co") == ("tip",)


def test_gas_with_the_content_of_air_says_nothing_of_an_o2_product():
    found = fit_products([o2_seen(0.9, 20.9), co_seen(0.98, 502.0)])
    assert not found.has("o2", "tip")


def test_contradicting_repeats_show_in_chi_square():
    calm = fit_products([co_seen(0.98, 502.0), co_seen(0.98, 502.0)])
    torn = fit_products([co_seen(0.98, 502.0), co_seen(0.90, 502.0)])
    assert (calm.freedom, torn.freedom) == (1, 1)
    assert calm.chi_square < 1e-9
    assert torn.chi_square == pytest.approx((0.08 * 502.0) ** 2 / (2 * 0.5**2), rel=1e-6)


def test_no_reading_gives_no_product():
    assert fit_products([]) is None


def test_zero_knowledge_of_a_channel_without_readings_is_left_out():
    found = fit_products([o2_seen(0.99, 0.0)], [ZERO])
    assert found.names == (("o2", "tip"),)


def test_an_absent_product_is_said_by_name():
    found = fit_products([co_seen(0.98, 502.0)])
    with pytest.raises(ValueError, match="not in"):
        found.value("co", "instrument")


@settings(max_examples=20)
@given(st.permutations(range(4)))
def test_the_order_of_readings_does_not_matter(order):
    seen = [
        o2_seen(0.95, 0.0),
        o2_seen(0.98, 0.0, "instrument"),
        co_seen(0.9, 502.0),
        co_seen(0.93, 502.0, "instrument"),
    ]
    first, second = fit_products(seen, [ZERO]), fit_products([seen[place] for place in order], [ZERO])
    for name in first.names:
        assert first.value(*name) == pytest.approx(second.value(*name), rel=1e-9, abs=1e-12)
        assert first.u(*name) == pytest.approx(second.u(*name), rel=1e-6)


def test_the_covariance_is_the_scatter_of_the_estimates():
    """Drawn readings, one bottle for both feeds: coverage of 95 % and the correlation come out as stated."""
    generator, gain, draws = np.random.default_rng(11), 0.9, 1500
    truth, estimates = np.array([gain * 0.95, gain]), []
    for content, *noise in 502.0 + generator.normal(0.0, [5.0, 2.0, 2.0], (draws, 3)):
        seen = [
            dataclasses.replace(
                co_seen(1.0, 502.0, feed, u_gas=5.0, u=2.0), shown=product * content + deviation - 502.0
            )
            for feed, product, deviation in zip(("tip", "instrument"), truth, noise, strict=True)
        ]
        found = fit_products(seen)
        estimates.append(found.values)
    estimates = np.array(estimates)
    inside = np.abs(estimates - truth) <= 1.96 * np.sqrt(np.diag(found.covariance))
    assert inside.mean() == pytest.approx(0.95, abs=0.02)
    stated = found.covariance[0, 1] / np.sqrt(found.covariance[0, 0] * found.covariance[1, 1])
    assert np.corrcoef(estimates.T)[0, 1] == pytest.approx(stated, abs=0.03)
