"""What temperature, draft and response time call for."""

import dataclasses

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.judgement import CheckResult
from flueproof.bench.verdict.sensor_actions import response_actions, sensor_actions

CO = "cyl-co-500"


@pytest.fixture(name="found")
def _found(read):
    return lambda visit: examine_record(*read(visit)).found


def acts(actions):
    return [(action.do, action.where, action.channel) for action in actions]


class TestThermocouple:
    @pytest.fixture(name="hot")
    def _hot(self, start, found, truth):
        def hot(socket, **fault):
            visit = start(truth(**fault))
            visit.temperature("therm-1", 200.0)
            if socket:
                visit.temperature("therm-1", 200.0, "stack", "socket")
            return sensor_actions(found(visit))

        return hot

    def test_right_is_left_alone(self, hot):
        assert hot(socket=True) == []

    def test_off_with_a_right_socket_is_the_probe(self, hot):
        assert acts(hot(socket=True, probe_emf_error=-0.06)) == [("mend-sensor", "probe", "stack")]

    def test_off_at_the_socket_is_the_instrument(self, hot):
        assert acts(hot(socket=True, cold_junction_error_k=8.0)) == [("mend-sensor", "instrument", "stack")]

    def test_off_without_a_test_at_the_socket_is_not_located(self, hot):
        action = hot(socket=False, probe_emf_error=-0.06)[0]
        assert action.where is None
        assert "simulator at the socket" in action.why


class TestDraft:
    @pytest.fixture(name="drafts")
    def _drafts(self, start, found, truth):
        def drafts(*points, zero=False, **fault):
            visit = start(truth(**fault))
            for pa in points:
                visit.pressure("mano-1", pa)
            now = found(visit)
            if zero:
                allowed = dataclasses.replace(now.profile.adjust["co"], channel="draft", can=("zero",))
                adjust = {**now.profile.adjust, "draft": allowed}
                now = dataclasses.replace(now, profile=dataclasses.replace(now.profile, adjust=adjust))
            return sensor_actions(now)

        return drafts

    def test_the_same_amount_everywhere_is_a_zero_where_it_can_be_set(self, drafts):
        action = drafts(-25.0, -100.0, zero=True, draft_zero_pa=12.0)[0]
        assert (action.do, action.enter) == ("adjust", {"unit": "Pa", "value": 0.0})

    def test_the_same_amount_is_the_sensor_where_no_zero_can_be_set(self, drafts):
        assert acts(drafts(-25.0, -100.0, draft_zero_pa=12.0)) == [("mend-sensor", None, "draft")]

    def test_a_share_of_the_draft_is_the_sensor(self, drafts):
        assert acts(drafts(-25.0, -100.0, zero=True, draft_gain=0.7)) == [("mend-sensor", None, "draft")]

    def test_one_point_does_not_show_a_zero(self, drafts):
        assert acts(drafts(-25.0, zero=True, draft_zero_pa=12.0)) == [("mend-sensor", None, "draft")]


def test_a_missing_air_sensor_says_what_the_display_said(start, found, truth):
    visit = start(truth(missing=frozenset({"air"})))
    visit.temperature("therm-air", 22.0, "air", "air-sensor")
    action = sensor_actions(found(visit))[0]
    assert (action.do, action.channel) == ("mend-sensor", "air")
    assert "no reading" in action.why


class TestResponse:
    """Slow at the tip only is the path, slow straight in is cell or flow (trade practice)."""

    @pytest.fixture(name="slow")
    def _slow(self, start, found):
        def slow(**channels_by_feed):
            visit = start()
            steps = {feed: visit.test_gas(CO, feed) for feed in channels_by_feed}
            now = found(visit)
            checks = tuple(
                CheckResult(steps[feed], "as-found", "response", channel, channel not in slow_ones, "took long")
                for feed, slow_ones in channels_by_feed.items()
                for channel in ("o2", "co")
            )
            return acts(response_actions(dataclasses.replace(now, checks=checks)))

        return slow

    def test_quick_is_left_alone(self, slow):
        assert slow(tip=(), instrument=()) == []

    def test_slow_at_the_tip_and_quick_at_the_inlet_is_filter_hose_or_trap(self, slow):
        assert slow(tip=("co", "o2"), instrument=()) == [("upkeep", "probe", None)]

    def test_one_channel_slow_at_the_inlet_is_its_cell(self, slow):
        assert slow(tip=("co",), instrument=("co",)) == [("replace-cell", None, "co")]

    def test_all_channels_slow_at_the_inlet_is_the_flow(self, slow):
        assert slow(tip=("co", "o2"), instrument=("co", "o2")) == [("upkeep", "instrument", None)]

    def test_slow_at_the_tip_alone_asks_for_upkeep_and_the_same_gas(self, slow):
        assert slow(tip=("co",)) == [("upkeep", None, "co")]
