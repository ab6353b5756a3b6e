"""The errors come from what was measured: products of gas, zeros, sensors, and what could not be told."""

import numpy as np
import pytest

from flueproof.bench.judge.judge import judge_record
from flueproof.impact.errors import NothingFoundError
from flueproof.impact.found.from_record import errors_as_found, errors_of_judgement
from flueproof.impact.found.lines import CO_OFFSET, CO_ON_NO, CO_SLOPE, O2_OFFSET, O2_SLOPE
from flueproof.impact.found.notes import FIELD_ZERO, SAME_FOR_BOTH
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.population import usual_plan
from flueproof.simulate.truth import Truth


def found(bench, truth=None, **how):
    record, profile, _ = bench(truth, **how)
    return errors_as_found(record, profile)


def within(errors, parameter, truth, k=2.5):
    lines = errors.hypotheses[0].lines
    return abs(lines.value(parameter) - truth) <= k * lines.u(parameter)


def test_a_tired_cell_is_a_slope_of_co_alone(bench):
    errors = found(bench, Truth(gain={"co": 0.8}))
    assert within(errors, CO_SLOPE, 0.8)
    assert within(errors, O2_SLOPE, 1.0)
    assert errors.hypotheses[0].lines.u(CO_SLOPE) < 0.015
    assert errors.leak == "none"


def test_a_leak_is_in_both_slopes_through_the_owners_own_probe(bench):
    errors = found(bench, Truth(dilution_probe=0.06))
    assert within(errors, O2_SLOPE, 0.94)
    assert within(errors, CO_SLOPE, 0.94)
    assert within(errors, O2_OFFSET, 20.9 * 0.06)
    assert errors.leak == "probe"


def test_slope_and_offset_of_a_unit_set_in_air_are_tied_so_that_air_stays_air(bench):
    lines = found(bench, Truth(o2_zero_pct=1.0)).hypotheses[0].lines
    at_air = lines.value(O2_SLOPE) * 20.9 + lines.value(O2_OFFSET)
    assert at_air == pytest.approx(20.9, abs=1e-9)
    gradient = np.zeros(7)
    gradient[:2] = 20.9, 1.0
    assert gradient @ lines.covariance @ gradient == pytest.approx(0.0, abs=1e-9)


def test_carbon_monoxide_of_the_bench_does_not_go_along_into_the_field(bench):
    """A zero taken at 20 ppm in the shop shows 20 ppm too little there, and not at the next switch-on."""
    errors = found(bench, Truth(), room=Room(co_ppm=20.0))
    assert abs(errors.hypotheses[0].lines.value(CO_OFFSET)) < 4.0


def test_a_zero_of_the_cells_own_goes_along(bench):
    errors = found(bench, Truth(zero={"co": 12.0}))
    assert within(errors, CO_OFFSET, 12.0)
    assert errors.hypotheses[0].lines.value(CO_OFFSET) > 6.0


def test_an_unlogged_room_leaves_the_zero_open(bench):
    def unlogged(visit):
        visit.steps[0].pop("room_co_ppm")
        usual_plan(visit)

    told, open_ = found(bench, Truth(zero={"co": 12.0})), found(bench, Truth(zero={"co": 12.0}), plan=unlogged)
    assert open_.hypotheses[0].lines.u(CO_OFFSET) > told.hypotheses[0].lines.u(CO_OFFSET)
    assert any("not logged" in note for note in open_.notes)


def test_what_co_shows_of_no_is_carried_as_a_cross_sensitivity(bench):
    record, profile, _ = bench(Truth(no_on_co=0.2), plan=with_no_gas, references=(*REFERENCES, "cyl-no-250"))
    errors = errors_as_found(record, profile)
    assert errors.hypotheses[0].lines.value(CO_ON_NO) == pytest.approx(0.2, abs=0.03)
    assert "NO" in errors.findings["co"].words


REFERENCES = ("cyl-co-500", "can-co-100", "cyl-co-o2", "therm-1", "therm-air", "mano-1")


def with_no_gas(visit):
    usual_plan(visit)
    visit.test_gas("cyl-no-250", "tip")


def test_a_dead_cell_is_not_corrected(bench):
    errors = found(bench, Truth(dead=frozenset({"co"})))
    assert errors.findings["co"].state == "dead"
    assert not errors.co_is_usable


def test_a_missing_air_sensor_is_said_and_leaves_the_limit_as_doubt(bench):
    errors = found(bench, Truth(missing=frozenset({"air"})))
    assert errors.findings["air"].state == "absent"
    assert errors.air is None
    assert errors.untested_k["air"] > 0.5
    assert any("no reading" in note for note in errors.notes)


def test_a_unit_that_cannot_be_told_says_that_its_values_hold_for_both(bench):
    errors = found(bench, Truth(o2_zero_pct=1.0), plan=only_gas_at_the_tip)
    assert errors.leak == "cannot-tell"
    assert len(errors.hypotheses) == 1
    assert SAME_FOR_BOTH in errors.notes


def only_gas_at_the_tip(visit):
    visit.test_gas("cyl-co-500", "tip")
    visit.test_gas("cyl-co-o2", "tip")


def only_at_the_instrument(visit):
    visit.test_gas("cyl-co-500", "instrument")
    visit.test_gas("cyl-co-o2", "instrument")


def test_gas_at_the_instrument_alone_says_nothing_of_the_probe(bench):
    errors = found(bench, Truth(dilution_probe=0.2), plan=only_at_the_instrument)
    assert within(errors, CO_SLOPE, 1.0)
    assert any("not at the probe tip" in note for note in errors.notes)


def test_a_product_is_carried_to_the_tip_by_the_gas_that_was_there(bench):
    """CO read at the instrument only, O2 at both: the probe's dilution is that of O2."""

    def plan(visit):
        visit.test_gas("cyl-co-500", "instrument")
        visit.test_gas("cyl-co-500", "tip")
        visit.steps[-1]["readings"] = [one for one in visit.steps[-1]["readings"] if one["channel"] == "o2"]

    errors = found(bench, Truth(dilution_probe=0.08, gain={"co": 0.9}), plan=plan)
    assert within(errors, CO_SLOPE, 0.9 * 0.92)
    assert errors.hypotheses[0].lines.covariance[0, 2] != 0.0  # it shares the error of O2


def test_co_without_o2_leaves_two_explanations(bench):
    def plan(visit):
        visit.test_gas("cyl-co-500", "tip")
        visit.steps[-1]["readings"] = [one for one in visit.steps[-1]["readings"] if one["channel"] == "co"]

    errors = found(bench, Truth(gain={"co": 0.8}), plan=plan)
    assert [one.words for one in errors.hypotheses] == [
        "if CO is short because the cell is tired",
        "if CO is short because room air leaks in",
    ]
    assert errors.hypotheses[1].lines.value(O2_SLOPE) == pytest.approx(0.8, abs=0.02)
    assert any("two explanations" in note for note in errors.notes)


def test_a_record_with_nothing_as_found_says_nothing(bench):
    def plan(visit):
        visit.as_left()
        usual_plan(visit)

    record, profile, _ = bench(Truth(), plan=plan)
    with pytest.raises(NothingFoundError, match="as found"):
        errors_as_found(record, profile)


def test_as_left_is_the_state_that_went_home(bench):
    def plan(visit):
        usual_plan(visit)
        visit.adjust("co", "cyl-co-500")
        visit.as_left()
        visit.test_gas("cyl-co-500", "tip")

    record, profile, _ = bench(Truth(gain={"co": 0.85}), plan=plan)
    assert within(errors_as_found(record, profile), CO_SLOPE, 0.85)
    assert within(errors_as_found(record, profile, phase="as-left"), CO_SLOPE, 1.0, k=3)


def test_a_judgement_gives_the_same_errors_as_its_record(bench):
    record, profile, _ = bench(Truth(gain={"co": 0.8}))
    again = errors_of_judgement(judge_record(record, profile), record, profile)
    assert np.array_equal(again.hypotheses[0].lines.values, errors_as_found(record, profile).hypotheses[0].lines.values)


def test_every_unit_that_zeroes_itself_carries_the_word_on_the_air_of_the_place(bench):
    assert FIELD_ZERO in found(bench).notes


def test_readings_that_contradict_each_other_widen_the_lines(bench):
    def plan(visit):
        usual_plan(visit)
        for step in visit.steps:
            if step.get("reference") == "can-co-100" and step["kind"] == "test-gas":
                co = next(one for one in step["readings"] if one["channel"] == "co")
                co["shown"] = [round(value * 1.3) for value in co["shown"]]

    assert found(bench, plan=plan).hypotheses[0].lines.u(CO_SLOPE) > 2 * found(bench).hypotheses[0].lines.u(CO_SLOPE)
