"""What the gas channels call for: adjust with what to enter, a new cell, a filter, zeroing again, or nothing."""

import dataclasses

import pytest

from flueproof.bench.judge.judge import examine_record
from flueproof.bench.verdict.gas_actions import channel_views, gas_actions
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.procedure import do_points

CO = "cyl-co-500"


@pytest.fixture(name="now")
def _now(start, read):
    """Do the required points, the CO bottle straight at the instrument and a plug there; return the situation."""

    def now(truth=None, *, change=None, also=(), **more):
        visit = start(truth, **more)
        do_points(visit, also=also)
        if "cyl-co-500" in visit.bottles:
            visit.test_gas(CO, "instrument")
        visit.plug_test("instrument")
        record, profile = read(visit)
        return examine_record(record, change(profile) if change else profile).found

    return now


def acts(now):
    return [(action.do, action.channel) for action in gas_actions(now)]


def with_adjust(channel, **values):
    return lambda profile: dataclasses.replace(
        profile, adjust={**profile.adjust, channel: dataclasses.replace(profile.adjust["co"], **values)}
    )


def test_a_channel_that_conforms_is_left_alone(now):
    assert acts(now()) == []


class TestAdjust:
    def test_it_says_what_to_enter_on_which_gas(self, now, truth):
        action = gas_actions(now(truth(co=0.82)))[0]
        assert (action.do, action.channel, action.enter) == ("adjust", "co", {"unit": "ppm", "value": 502.0})
        assert "enter 502 ppm" in action.why
        assert action.detail["gas"] == CO

    def test_the_gain_is_background_and_the_as_left_is_predicted(self, now, truth):
        detail = gas_actions(now(truth(co=0.82)))[0].detail
        assert detail["gain"] == pytest.approx(0.82, abs=0.02)
        assert detail["factor"] == pytest.approx(1 / 0.82, rel=0.02)
        assert abs(detail["predicted_as_left"]["error"]) <= 0.5  # the entry is on the display step
        assert detail["predicted_as_left"]["u"] > 2.4  # the bottle stays in it
        assert "life" in detail

    @pytest.mark.parametrize("certified", [501.6, 502.4, 0.4])
    def test_what_to_enter_lies_on_the_display_step(self, now, truth, certified):
        from flueproof.bench.verdict.gas_actions import _as_entered

        assert _as_entered(certified, 1.0) == round(certified)
        assert _as_entered(certified, 0.1) == pytest.approx(certified)

    def test_the_gas_with_the_least_relative_uncertainty_is_used(self, start, read, truth):
        visit = start(truth(co=0.82))
        do_points(visit)
        for gas in ("can-co-100", CO):
            visit.test_gas(gas, "instrument")
        visit.plug_test("instrument")
        assert gas_actions(examine_record(*read(visit)).found)[0].detail["gas"] == CO


class TestCell:
    def test_a_cell_below_its_end_is_replaced(self, now, truth):
        found = gas_actions(now(truth(co=0.5)))
        assert [(action.do, action.channel) for action in found] == [("replace-cell", "co")]
        assert "spent at 60 %" in found[0].why

    def test_a_factor_that_the_display_does_not_take_is_a_new_cell(self, now, truth):
        found = gas_actions(now(truth(co=0.82), change=with_adjust("co", gain_high=1.1)))
        assert found[0].do == "replace-cell"
        assert "0.7 to 1.1" in found[0].why

    def test_a_dead_cell_is_replaced_whatever_the_path(self, now, truth):
        dead = {"dead": frozenset({"co"})}
        assert acts(now(truth(**dead))) == [("replace-cell", "co")]
        assert acts(now(truth(**dead, dilution_probe=0.1))) == [("replace-cell", "co")]

    def test_a_path_that_draws_nothing_but_air_says_nothing_of_the_cell(self, now, truth):
        """Trade practice: reads air all the time, the hose is off inside or the pump does not draw."""
        assert acts(now(truth(dilution_instrument=1.0))) == []

    def test_an_o2_cell_that_air_cannot_set_is_spent(self, start, read, truth):
        visit = start(truth(o2_output=0.5))
        visit.ambient_air()
        do_points(visit)
        found = gas_actions(examine_record(*read(visit)).found)
        assert [(action.do, action.channel) for action in found] == [("replace-cell", "o2")]
        assert "in air is spent" in found[0].why

    def test_a_residual_current_behind_a_tight_path_is_the_cell(self, now, truth):
        found = gas_actions(now(truth(o2_zero_pct=0.9)))
        assert [(action.do, action.channel) for action in found] == [("replace-cell", "o2")]
        assert "no repair" in found[0].why

    def test_an_o2_zero_that_this_shop_can_set_is_adjusted(self, now, truth):
        found = gas_actions(now(truth(o2_zero_pct=0.9), change=with_adjust("o2", can=("zero",))))
        assert [(action.do, action.enter) for action in found] == [("adjust", {"unit": "%", "value": 0.0})]


class TestWhatKeepsAnAdjustmentAway:
    def test_a_path_that_is_not_told(self, start, read, truth):
        """O2 shows 5 % air at both feeds and nothing was done that could tell."""
        visit = start(truth(co=0.7, dilution_instrument=0.05))
        for feed in ("tip", "instrument"):
            visit.test_gas(CO, feed)
        assert acts(examine_record(*read(visit)).found) == []

    def test_a_leak_inside(self, now, truth):
        assert "adjust" not in dict(acts(now(truth(co=0.75, dilution_instrument=0.08))))

    def test_no_access(self, now, truth):
        found = gas_actions(now(truth(co=0.82), change=lambda profile: dataclasses.replace(profile, adjust={})))
        assert [(action.do, action.detail) for action in found] == [("discuss", {"access": "none"})]

    def test_a_zero_taken_in_co_asks_for_zeroing_again(self, start, read, truth):
        """Constant in ppm at two contents: no gain is off (issue 2, the gas path)."""
        visit = start(truth(co=1.0), room=Room(co_ppm=60.0))
        do_points(visit)
        visit.test_gas("can-co-100", "tip")
        found = gas_actions(examine_record(*read(visit)).found)
        assert [(action.do, action.channel) for action in found] == [("repeat", "co")]
        assert "Zero again in clean air" in found[0].why


def test_a_leak_in_the_probe_leaves_the_cell_to_be_judged_at_the_inlet(now, truth):
    assert acts(now(truth(co=0.80, dilution_probe=0.07))) == [("adjust", "co")]
    assert acts(now(truth(co=0.99, dilution_probe=0.20))) == []


def test_a_spent_filter_is_told_by_the_gas_that_it_should_hold(start, read, truth):
    visit = start(truth(no_on_co=0.24), references=(CO, "cyl-no-250", "therm-1", "mano-1"))
    do_points(visit, also=("co-no-filter",))
    found = gas_actions(examine_record(*read(visit)).found)
    assert [(action.do, action.channel) for action in found] == [("replace-filter", "co")]
    assert "at most 5 %" in found[0].why


def test_views_take_the_inlet_where_it_was_fed_and_never_a_foreign_probe(start, read):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.test_gas(CO, "tip", probe="shop")
    views = {view.channel.name: {point.feed for point in view.points} for view in channel_views(_found(visit, read))}
    assert views == {"o2": {"tip"}, "co": {"tip"}}
    visit.test_gas(CO, "instrument")
    visit.test_gas(CO, "instrument", pinched=True)
    views = {view.channel.name: {point.feed for point in view.points} for view in channel_views(_found(visit, read))}
    assert views == {"o2": {"instrument"}, "co": {"instrument"}}


def _found(visit, read):
    return examine_record(*read(visit)).found
