"""Test points: budget, repeats, bounds, grouping. JCGM 100:2008, 4, 5.2.2, F.2.2.1 and G.4; JCGM 106:2012, 8."""

import dataclasses
import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.bench.judge.points import budget_of, judged_point, point_groups, repeatability_of
from flueproof.metrology.conformity import decision_rule
from flueproof.readings.settled import SettledValue

PROFILE = shipped_profile("two-cell-residential")
CO, O2 = PROFILE.channels["co"], PROFILE.channels["o2"]
AT = dt.datetime(2026, 11, 3, tzinfo=dt.UTC)
BOTTLE = ReferenceValue(502.0, 2.5, math.inf, "normal", "cyl-co-500")
PURE = ReferenceValue(0.0, 0.006, math.inf, "rectangular", "cyl-co-500", implied=True, stated="purity")
RULE = decision_rule("simple")


def seen(value=489.6, bound=None, *, channel="co", reference=BOTTLE, application=1, **more):
    settled = SettledValue(value, 1.0, bound=bound, u_settling=0.8, u_noise=0.3, u_step=0.29)
    if bound is not None:
        settled = SettledValue(value, math.inf, bound=bound)
    unit = "ppm" if channel == "co" else "%"
    one = Measured(
        "s1",
        AT,
        "as-found",
        "test-gas",
        channel,
        unit,
        "tip",
        "owner",
        None,
        application,
        False,
        settled,
        reference,
        None,
    )
    return dataclasses.replace(one, **more)


def judged(*members, bundle=EMPTY_BUNDLE, rule=RULE):
    groups = point_groups(members)
    assert len(groups) == 1
    return judged_point(groups[0], PROFILE, rule, bundle)


def lines(*members, channel=CO, bundle=EMPTY_BUNDLE):
    return {line.name: line for line in budget_of(point_groups(members)[0], channel, bundle)}


def test_the_budget_names_every_part():
    found = lines(seen())
    assert list(found) == ["test gas certificate", "settling", "noise", "display step", "repeatability"]
    assert found["test gas certificate"].u == 2.5
    assert found["test gas certificate"].shared == "cyl-co-500"
    assert found["repeatability"].u == pytest.approx(0.005 * 502.0)
    assert found["repeatability"].dof == 12


def test_error_u_and_expanded_u_follow_from_the_budget():
    point = judged(seen())
    u = math.sqrt(2.5**2 + 0.8**2 + 0.3**2 + 0.29**2 + 2.51**2)
    assert point.error == pytest.approx(-12.4)
    assert point.u == pytest.approx(u)
    assert point.dof == pytest.approx(u**4 / (2.51**4 / 12), rel=1e-6)  # JCGM 100:2008, (G.2b)
    assert pytest.approx(point.k * u) == point.U
    assert point.limit == pytest.approx(50.2)  # OIML R 144-1:2013, 4.3.2: 10 % as found
    assert point.statement == "conform"
    assert point.settled_u == pytest.approx(math.sqrt(u**2 - 2.5**2))


@pytest.mark.parametrize("count", [1, 2, 5])
def test_a_repeat_on_one_bottle_shrinks_what_differs_and_nothing_else(count):
    found = lines(*(seen(application=number) for number in range(1, count + 1)))
    assert found["test gas certificate"].u == 2.5
    assert found["display step"].u == pytest.approx(0.29)
    assert found["settling"].u == pytest.approx(0.8 / math.sqrt(count))
    assert found["noise"].u == pytest.approx(0.3 / math.sqrt(count))
    pooled = 2.51 * math.sqrt(12 / (12 + count - 1))  # own repeats, here without scatter, join the pool: 4.2.4
    assert found["repeatability"].u == pytest.approx(pooled / math.sqrt(count))
    assert found["repeatability"].dof == 12 + count - 1


def test_repeats_are_averaged_into_one_point():
    point = judged(seen(486.0), seen(492.0, application=2, step="s2"))
    assert point.settled == pytest.approx(489.0)
    assert (point.repeats, point.steps) == (2, ("s1", "s2"))


def test_own_repeats_join_the_pool_by_degrees_of_freedom():
    """JCGM 100:2008, 4.2.4: (12 * 2.51^2 + 2 * 6^2 of 480, 486, 492) / 14, over the root of three applications."""
    members = [seen(value, application=number) for number, value in enumerate((480.0, 486.0, 492.0), 1)]
    found = lines(*members)["repeatability"]
    assert found.dof == 14
    assert found.u == pytest.approx(math.sqrt((12 * 2.51**2 + 2 * 6.0**2) / 14) / math.sqrt(3))


@pytest.mark.parametrize(
    "other",
    [
        {"feed": "instrument"},
        {"phase": "as-left"},
        {"pinched": True},
        {"probe": "shop"},
        {"reference": dataclasses.replace(BOTTLE, identifier="other")},
        {"reference": dataclasses.replace(BOTTLE, value=100.0)},
    ],
)
def test_another_place_phase_or_gas_is_another_point(other):
    assert len(point_groups([seen(), dataclasses.replace(seen(), **other)])) == 2


def test_a_reading_without_a_reference_is_no_point():
    assert point_groups([seen(reference=None)]) == []


def test_the_bundles_pooled_repeatability_stands_before_the_profiles():
    bundle = Bundle(repeatability={"co": (1.2, 40.0)})
    assert repeatability_of(CO, bundle, 502.0) == (1.2, 40.0)
    assert repeatability_of(CO, EMPTY_BUNDLE, 50.0) == (0.5, 12)
    assert lines(seen(), bundle=bundle)["repeatability"].dof == 40.0


def test_an_instrument_reference_brings_the_spread_of_its_source():
    bath = ReferenceValue(200.0, 0.15, math.inf, "normal", "therm-1", u_source=0.4, stated="instrument")
    found = lines(seen(reference=bath))
    assert found["reference certificate"].u == 0.15
    assert found["spread of the source"].u == 0.4


def test_a_gas_that_the_certificate_does_not_name_brings_its_purity():
    assert "test gas purity" in lines(seen(0.1, channel="o2", reference=PURE), channel=O2)


class TestBounds:
    """A display that gave a bound is judged by what it shows, with a word on what that may hide (own rule)."""

    def test_a_clamped_o2_of_nothing_on_o2_free_gas_conforms(self):
        point = judged(seen(0.0, "below", channel="o2", reference=PURE))
        assert (point.statement, point.error) == ("conform", 0.0)
        assert "cannot go lower" in point.caveat

    def test_a_clamped_zero_still_has_its_display_step(self):
        """A display that shows 0.0 hides up to half a step, as any other reading does (JCGM 100:2008, F.2.2.1)."""
        point = judged(seen(0.0, "below", channel="o2", reference=PURE))
        steps = [line.u for line in point.budget if line.name == "display step"]
        assert steps == [pytest.approx(0.1 / math.sqrt(12))]

    def test_a_snapped_o2_has_the_width_of_its_snap(self):
        gas = ReferenceValue(20.9, 0.05, math.inf, "normal", "air")
        point = judged(seen(20.9, "snapped", channel="o2", reference=gas))
        steps = [line.u for line in point.budget if line.name == "display step"]
        assert steps == [pytest.approx(0.2 / math.sqrt(3))]
        assert point.statement == "conform"

    def test_co_clamped_at_nothing_on_gas_is_not_conforming(self):
        point = judged(seen(0.0, "below"))
        assert (point.statement, point.p_conform) == ("not-conform", 0.0)
        assert point.error == -502.0

    def test_above_the_range_is_a_lower_bound(self):
        assert judged(seen(math.nan, "above")).statement == "not-conform"
        near = dataclasses.replace(BOTTLE, value=1990.0)
        assert judged(seen(math.nan, "above", reference=near)).statement == "undecided"

    def test_no_reading_is_not_conforming(self):
        point = judged(seen(math.nan, "absent"))
        assert point.statement == "not-conform"
        assert math.isnan(point.settled)
        assert "no reading" in point.caveat

    def test_a_bound_never_hides_a_number_of_another_application(self):
        """0.0 once and 0.9 once is a mean of 0.45 against a limit of 0.3, not a clamped zero that conforms."""
        clamped = seen(0.0, "below", channel="o2", reference=PURE)
        number = seen(0.9, channel="o2", reference=PURE, application=2)
        for members in ((clamped, number), (number, clamped)):
            point = judged(*members)
            assert point.settled == pytest.approx(0.45)
            assert point.statement == "not-conform"


@given(error=st.floats(-80.0, 80.0), name=st.sampled_from(["simple", "guarded-U", "risk-2", "specific-2"]))
def test_the_statement_is_that_of_the_rule(error, name):
    point = judged(seen(502.0 + error), rule=decision_rule(name))
    if abs(point.error) <= point.limit - point.guard:
        assert point.statement == "conform"
    elif abs(point.error) > point.limit + point.guard:
        assert point.statement == "not-conform"
    else:
        assert point.statement == "undecided"
    assert 0.0 <= point.p_conform <= 1.0
    assert point.tur == pytest.approx(point.limit / point.U)


class TestNotSettled:
    """A reading still on its way decides nothing where its way leads over the limit, under simple acceptance too."""

    @staticmethod
    def of_o2(value, u_settling, *, settled):
        going = SettledValue(value, u_settling, settled=settled, u_settling=u_settling, u_step=0.03)
        return judged(seen(channel="o2", reference=PURE, settled=going))

    @pytest.mark.parametrize("value", [0.2, 0.66])
    def test_either_side_of_the_limit_is_open(self, value):
        assert self.of_o2(value, 0.6, settled=False).statement == "undecided"

    def test_the_same_reading_settled_is_decided_by_the_rule(self):
        assert self.of_o2(0.66, 0.6, settled=True).statement == "not-conform"

    def test_far_beyond_the_limit_it_decides_on_its_way_too(self):
        assert self.of_o2(6.0, 0.6, settled=False).statement == "not-conform"

    def test_the_risk_is_that_of_an_open_point(self):
        point = self.of_o2(0.66, 0.6, settled=False)
        assert point.risk == pytest.approx(1.0 - point.p_conform)
