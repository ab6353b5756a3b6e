"""Checks that are no test points: response, room air, zero gas, cross-sensitivity."""

import dataclasses
import datetime as dt
import math

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.checks import absent_gas_checks, flow_checks, is_test_point, response_checks, room_air_checks
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.readings.settled import SettledValue
from flueproof.simulate.truth import StepResponse, Truth

PROFILE = shipped_profile("two-cell-residential")
AT = dt.datetime(2026, 11, 3, tzinfo=dt.UTC)
GAS = ReferenceValue(502.0, 2.5, math.inf, "normal", "cyl-co-500")
NOTHING = ReferenceValue(0.0, 0.6, math.inf, "rectangular", "cyl-no-250", implied=True)


def seen(channel="co", value=489.0, *, t90_s=40.0, bound=None, reference=GAS, **more):
    settled = SettledValue(value, 1.0, t90_s=t90_s, bound=bound)
    unit = PROFILE.channels[channel].unit
    one = Measured(
        "s3", AT, "as-found", "test-gas", channel, unit, "tip", "owner", None, 1, False, settled, reference, value
    )
    return dataclasses.replace(one, **more)


class TestWhatIsATestPoint:
    """Bench record, "what the unit's own zeroing hides"."""

    def test_a_certified_content_is(self):
        assert is_test_point(seen(), PROFILE.channels["co"])

    def test_o2_free_gas_is_for_o2_but_not_for_co(self):
        assert is_test_point(seen("o2", 0.1, reference=NOTHING), PROFILE.channels["o2"])
        assert not is_test_point(seen(value=0.0, reference=NOTHING), PROFILE.channels["co"])

    @pytest.mark.parametrize("reference", [None, dataclasses.replace(GAS, value=2500.0)])
    def test_neither_room_air_nor_gas_beyond_the_range_is(self, reference):
        assert not is_test_point(seen(reference=reference), PROFILE.channels["co"])

    def test_a_swap_test_is_not(self):
        assert not is_test_point(seen(kind="swap-test"), PROFILE.channels["co"])


class TestResponse:
    @pytest.mark.parametrize(("t90_s", "ok"), [(90.0, True), (90.1, False), (math.inf, False)])
    def test_the_display_itself_must_have_made_90_per_cent_in_time(self, t90_s, ok):
        check = response_checks([seen(t90_s=t90_s)], PROFILE)[0]
        assert (check.kind, check.ok, check.limit) == ("response", ok, 90.0)

    @pytest.mark.parametrize(
        "one",
        [
            seen(t90_s=math.nan),
            seen(kind="ambient-air"),
            seen(pinched=True),
            seen(probe="shop"),
            seen(value=12.0),  # a rise of a dozen display steps has no response time worth the name
            seen("draft", -25.0),
        ],
    )
    def test_what_cannot_be_timed_is_not_judged(self, one):
        assert response_checks([one], PROFILE) == []

    def test_the_first_application_at_a_feed_counts(self):
        checks = response_checks(
            [seen(t90_s=40.0), seen(t90_s=95.0, application=2), seen(t90_s=20.0, feed="instrument")], PROFILE
        )
        assert [check.value for check in checks] == [40.0, 20.0]

    @pytest.mark.parametrize(("on_gas_s", "ok"), [(24.0, None), (89.0, None), (90.0, False), (120.0, False)])
    def test_a_hold_shorter_than_the_limit_tells_nothing_of_a_cell_that_is_not_there_yet(self, on_gas_s, ok):
        [check] = response_checks([seen(t90_s=math.inf, on_gas_s=on_gas_s)], PROFILE)
        assert check.ok is ok

    def test_a_longer_application_after_a_short_one_shows_it(self):
        short, long = seen(t90_s=math.inf, on_gas_s=24.0), seen(t90_s=40.0, step="s4", on_gas_s=120.0)
        assert [(check.step, check.ok) for check in response_checks([short, long], PROFILE)] == [("s4", True)]

    def test_extrapolation_does_not_rescue_a_slow_cell(self, visit, judge, truth, doing):
        slow = {"co": StepResponse(6.0, 38.0, 0.15, 150.0), "o2": StepResponse(4.0, 7.0, 0.01, 45.0)}
        found = judge(visit(truth(responses=slow), traced=True))
        check = next(check for check in found.checks if check.kind == "response" and check.channel == "co")
        assert check.ok is False
        assert doing(found.as_found) == [("upkeep", "co")]


class TestRoomAir:
    def test_it_is_a_drift_check_and_says_so(self):
        check = room_air_checks([seen(value=3.0, kind="ambient-air", reference=None)], PROFILE)[0]
        assert (check.kind, check.value, check.ok) == ("room-air", 3.0, True)
        assert "no test of this channel" in check.text

    @pytest.mark.parametrize(("shown", "ok"), [(20.5, True), (20.1, False)])
    def test_drift_beyond_the_limit_fails(self, shown, ok):
        assert room_air_checks([seen("o2", shown, kind="ambient-air", reference=None)], PROFILE)[0].ok is ok

    def test_an_o2_that_snaps_to_air_has_not_drifted(self):
        check = room_air_checks([seen("o2", 20.9, bound="snapped", kind="ambient-air", reference=None)], PROFILE)[0]
        assert (check.value, check.ok) == (0.0, True)

    def test_it_makes_no_test_point(self, start, judge):
        visit = start()
        visit.ambient_air()
        found = judge(visit)
        assert found.points == ()
        assert {check.kind for check in found.checks} <= {"room-air"}
        assert found.as_found.outcome == "incomplete"


class TestGasWithoutTheComponent:
    def test_what_shows_on_another_gas_is_cross_sensitivity(self):
        check = absent_gas_checks([seen(value=60.0, reference=NOTHING)], {"s3": {"no": 250.0}}, PROFILE)[0]
        assert (check.kind, check.value, check.ok) == ("cross-sensitivity", pytest.approx(24.0), False)

    def test_within_the_limit_the_filter_does_its_work(self):
        """40 CFR 63 Subpart ZZZZ, Appendix A, 13.2: 5 %."""
        check = absent_gas_checks([seen(value=12.0, reference=NOTHING)], {"s3": {"no": 250.0}}, PROFILE)[0]
        assert (check.value, check.limit, check.ok) == (pytest.approx(4.8), 5.0, True)

    @pytest.mark.parametrize(("value", "bound", "ok"), [(0.0, "below", True), (4.0, None, True), (6.0, None, False)])
    def test_on_clean_gas_it_is_the_zero(self, value, bound, ok):
        check = absent_gas_checks([seen(value=value, bound=bound, reference=NOTHING)], {"s3": {}}, PROFILE)[0]
        assert (check.kind, check.ok, check.limit) == ("zero", ok, 5.0)

    def test_o2_is_not_judged_so(self):
        assert absent_gas_checks([seen("o2", 0.1, reference=NOTHING)], {}, PROFILE) == []


@pytest.mark.parametrize(("true_flow", "ok"), [(0.9, True), (0.3, False)])
def test_the_pumps_flow_is_held_against_the_profiles_range(start, read, true_flow, ok):
    visit = start(Truth(pump_flow_l_min=true_flow), references=("cyl-co-500", "flow-1"))
    visit.flow("flow-1")
    record, profile = read(visit)
    check = flow_checks(record, "as-found", profile)[0]
    assert (check.kind, check.ok) == ("flow", ok)
    assert flow_checks(record, "as-left", profile) == []
