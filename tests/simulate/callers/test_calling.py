"""Simulated calls: the same for the same seed, of the right mix, and in keeping with the planted cause."""

from collections import Counter

import pytest

from flueproof.simulate.callers.calling import PAIRED_WITH, PATH, PLANTS, draw_call, draw_calls, weights_of
from flueproof.simulate.callers.figures import figures_of
from flueproof.simulate.errors import SimulationError


@pytest.fixture(scope="module")
def calls():
    return list(draw_calls(400, 11))


def only(cause, count=12):
    return list(draw_calls(count, 5, causes={cause: 1.0}))


def test_the_same_seed_gives_the_same_calls():
    first, again = list(draw_calls(6, 3)), list(draw_calls(6, 3))
    assert first == again
    assert first != list(draw_calls(6, 4))


def test_a_call_does_not_hang_on_how_many_are_drawn(calls):
    assert calls[17] == draw_call(17, 11)


def test_every_cause_has_a_weight_and_can_be_planted():
    assert set(PLANTS) == set(figures_of("causes"))
    for cause in PLANTS:
        call = only(cause, 1)[0]
        assert call.causes == (cause,)
        assert call.complaint
        assert call.right
        assert call.bench


def test_old_cells_wear_and_seasons_matter():
    young, old = weights_of({"o2": 5, "co": 5}, 5), weights_of({"o2": 30, "co": 60}, 5)
    assert old["o2-cell-spent"] > 3 * young["o2-cell-spent"]
    assert old["co-cell-weak"] > 3 * young["co-cell-weak"]
    assert weights_of({"o2": 5}, 1)["cold-unit"] > weights_of({"o2": 5}, 7)["cold-unit"]
    assert weights_of({"o2": 5}, 8)["humid-zero"] > weights_of({"o2": 5}, 1)["humid-zero"]


def test_about_one_call_in_sixteen_has_two_causes(calls):
    double = [call.causes for call in calls if len(call.causes) == 2]
    assert 0.03 < len(double) / len(calls) < 0.1
    assert all(first in PATH and second in PAIRED_WITH for first, second in double)


def test_no_cause_crowds_out_the_others(calls):
    counts = Counter(call.causes[0] for call in calls)
    assert len(counts) > 35
    assert max(counts.values()) < 0.15 * len(calls)


def test_a_leak_shows_in_the_flue_and_not_in_fresh_air():
    for call in only("hose-split"):
        assert call.right["o2_fresh_air"] == pytest.approx(20.9, abs=0.2)
        share = call.truth.dilution_probe
        expected = call.scene.flue_o2_pct + share * (20.9 - call.scene.flue_o2_pct)
        assert call.right["o2_flue"] == pytest.approx(expected, abs=0.25)
        assert call.right["plug_at_inlet"] == "stalls"
        assert call.right["other_hose"] == "better"


def test_the_bench_measures_the_planted_leak_within_its_uncertainty():
    for call in [*only("trap-seal"), *only("probe-joint-seal")]:
        value, u = call.bench["dilution_tip"]
        assert abs(value - call.truth.dilution_probe) < 4 * u
        assert call.bench["dilution_instrument"][0] < 0.01


def test_the_bench_tells_a_leak_inside_from_a_residual_current():
    for call in only("leak-inside"):
        assert call.bench["dilution_instrument"][0] > 0.008
        assert call.bench["o2_zero"][0] < 0.4
    residual = [call for call in only("o2-cell-ageing", 30) if call.truth.o2_zero_pct > 0.4]
    assert residual
    for call in residual:
        assert call.bench["o2_zero"][0] == pytest.approx(call.truth.o2_zero_pct, abs=0.25)
        assert call.bench["dilution_instrument"][0] < 0.01


def test_a_weak_co_cell_is_seen_at_the_bench_and_leaves_oxygen_right():
    for call in only("co-cell-weak"):
        assert call.bench["gain_co"][0] == pytest.approx(call.truth.co_gain, abs=0.06)
        assert call.right["plug_at_tip"] == "stalls"


def test_a_spent_oxygen_cell_does_not_start_or_hardly():
    assert {call.right["start"] for call in only("o2-cell-spent", 30)} == {"o2-error", "sometimes-passes"}
    assert {call.right["start"] for call in only("co-cell-weak")} == {"passes"}


def test_a_worn_pump_runs_on_everywhere_and_draws_little():
    for call in only("pump-worn"):
        assert call.right["plug_at_inlet"] == "runs-on"
        assert call.bench["flow_l_min"] < 0.5
        assert call.bench["dead_end_kpa"] < 6


def test_humid_air_makes_dry_air_read_too_much():
    shown = [call.right["bottle_shows"] for call in only("humid-zero", 30) if call.right["bottle"] == "dry-air"]
    assert len(shown) > 5
    assert max(shown) < 1.1
    assert sum(shown) / len(shown) > 1.015


def test_height_lowers_oxygen_as_the_pressure_falls():
    for call in only("altitude"):
        rise = call.scene.height_m - call.scene.height_set_m
        assert call.right["o2_fresh_air"] == pytest.approx(20.9 * (1 - rise / 8400), abs=0.5)


def test_reversed_leads_fall_when_warmed():
    assert {call.right["tip_warmed_in_hand"] for call in only("thermocouple-reversed")} == {"falls"}


def test_a_wrong_reference_junction_shows_in_the_room_and_at_the_socket():
    for call in only("cold-junction"):
        off = call.right["stack_in_room_c"] - call.right["room_c"]
        assert abs(off) == pytest.approx(abs(call.truth.cold_junction_error_k), abs=0.5)
        assert abs(call.bench["socket_points"][0][1] - 60.0) > 3


def test_a_dead_charger_leaves_the_rest_untold():
    for call in only("charger-dead"):
        assert call.right["start"] == "dark"
        assert "o2_flue" not in call.right


@pytest.mark.parametrize("wrong", [{"count": -1}, {"causes": {"gremlin": 1.0}}, {"causes": {"hose-off": 0.0}}])
def test_a_population_that_cannot_be_is_refused(wrong):
    with pytest.raises(SimulationError, match="need count"):
        list(draw_calls(**({"count": 1, "seed": 1} | wrong)))
