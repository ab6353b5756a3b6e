"""Corrected readings: what cancels, what does not, what cannot be said, and alike for one reading and for many."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.impact.correcting import correct as module
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.corrected import QUANTITIES, Caution, words_of
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.correcting.shown import shown_quantities
from flueproof.impact.found.from_record import errors_as_found
from flueproof.simulate.truth import Truth

ONE = {"o2_pct": 5.0, "co_ppm": 100.0, "stack_c": 200.0, "air_c": 20.0, "own_efficiency_pct": 85.0}


def readings(**changes):
    return field_readings(**(ONE | changes))


def test_without_errors_every_quantity_stays_as_shown(known, gas):
    done = correct(readings(), known(), gas)
    for name in QUANTITIES:
        assert done[name].value[0] == pytest.approx(done.shown[name][0])
    for name in ("o2_pct", "co_ppm", "co_air_free_ppm", "excess_air_pct"):
        assert done[name].u[0] == 0.0


@given(o2=st.floats(0.5, 14.0), co=st.floats(0.0, 2000.0), share=st.floats(0.0, 0.3), gain=st.floats(0.3, 1.5),
       zero=st.floats(0.0, 2.0), stack=st.floats(110.0, 290.0))  # fmt: skip
def test_what_the_analyzer_made_of_the_truth_is_undone(known, gas, o2, co, share, gain, zero, stack):
    """Leak, cell and zero of a unit that sets itself to 20.9 in air, whatever their mixture."""
    slope = (1 - zero / 20.9) * (1 - share)
    errors = known(o2_slope=slope, o2_offset_pct=20.9 * (1 - slope), co_slope=gain * (1 - share), stack_k=4.0)
    shown = readings(o2_pct=20.9 - slope * (20.9 - o2), co_ppm=gain * (1 - share) * co, stack_c=stack + 4.0)
    done, truth = correct(shown, errors, gas), shown_quantities(readings(o2_pct=o2, co_ppm=co, stack_c=stack), gas)
    for name in ("o2_pct", "co_ppm", "co_air_free_ppm", "excess_air_pct", "loss_pct", "efficiency_pct"):
        assert done[name].value[0] == pytest.approx(truth[name][0], rel=1e-9, abs=1e-7), name


@given(o2=st.floats(0.5, 14.0), co=st.floats(1.0, 2000.0), share=st.floats(0.0, 0.15))
def test_a_leak_cancels_in_co_air_free(known, gas, o2, co, share):
    errors = known(o2_slope=1 - share, o2_offset_pct=20.9 * share, co_slope=1 - share)
    done = correct(readings(o2_pct=20.9 - (1 - share) * (20.9 - o2), co_ppm=(1 - share) * co), errors, gas)
    assert done["co_air_free_ppm"].value[0] == pytest.approx(done.shown["co_air_free_ppm"][0], rel=1e-9)


def test_an_error_of_the_o2_channel_does_not_cancel(known, gas):
    done = correct(readings(o2_pct=6.0), known(o2_offset_pct=1.0), gas)
    assert done["co_air_free_ppm"].value[0] < 0.95 * done.shown["co_air_free_ppm"][0]


def test_a_common_error_of_both_temperatures_cancels_in_the_loss(known, gas):
    done = correct(readings(stack_c=205.0, air_c=25.0), known(stack_k=5.0, air_k=5.0), gas)
    assert done["loss_pct"].value[0] == pytest.approx(done.shown["loss_pct"][0])


def test_the_analyzers_own_efficiency_moves_by_the_change_of_the_formula(known, gas):
    done = correct(readings(stack_c=210.0), known(stack_k=10.0), gas)
    moved = done["efficiency_pct"].value[0] - done.shown["efficiency_pct"][0]
    assert done["own_efficiency_pct"].value[0] == pytest.approx(85.0 + moved)
    assert moved == pytest.approx(0.503, abs=0.01)


def test_blocks_make_no_difference(bench, gas, monkeypatch):
    errors = errors_as_found(*bench(Truth(gain={"co": 0.8}, dilution_probe=0.04))[:2])
    generator = np.random.default_rng(5)
    many = field_readings(o2_pct=generator.uniform(1, 17, 100), co_ppm=generator.uniform(0, 800, 100),
                          stack_c=generator.uniform(10, 300, 100), air_c=generator.uniform(0, 30, 100))  # fmt: skip
    whole = correct(many, errors, gas, share=np.linspace(0, 1, 100))
    monkeypatch.setattr(module, "ROWS_AT_ONCE", 7)
    cut = correct(many, errors, gas, share=np.linspace(0, 1, 100))
    for name in QUANTITIES:
        np.testing.assert_array_equal(whole[name].value, cut[name].value)
        np.testing.assert_array_equal(whole[name].u, cut[name].u)
        np.testing.assert_array_equal(whole.shown[name], cut.shown[name])
    np.testing.assert_array_equal(whole.cautions, cut.cautions)


def test_one_of_many_is_as_one_alone(bench, gas):
    errors = errors_as_found(*bench(Truth(gain={"co": 0.8}))[:2])
    many = correct(field_readings(o2_pct=[5.0, 9.0], co_ppm=[100.0, 20.0], stack_c=200.0, air_c=20.0), errors, gas)
    alone = correct(field_readings(o2_pct=9.0, co_ppm=20.0, stack_c=200.0, air_c=20.0), errors, gas)
    for name in QUANTITIES:
        np.testing.assert_allclose(many[name].value[1:], alone[name].value)
        np.testing.assert_allclose(many[name].u[1:], alone[name].u)


class TestWhatCannotBeSaid:
    def cautions(self, errors, gas, **changes):
        done = correct(readings(**changes), errors, gas)
        return done, int(done.cautions[0])

    def test_near_air_nothing_is_computed(self, known, gas):
        done, cautions = self.cautions(known(), gas, o2_pct=18.5)
        assert cautions & Caution.NEAR_AIR
        assert np.isnan(done["co_air_free_ppm"].value[0])
        assert done["co_ppm"].value[0] == 100.0

    def test_above_15_percent_a_word_is_said(self, known, gas):
        assert self.cautions(known(), gas, o2_pct=16.0)[1] & Caution.WEAK_AIR_FREE

    def test_o2_below_nothing_shows_that_the_error_was_not_there_in_full(self, known, gas):
        done, cautions = self.cautions(known(o2_slope=0.9, o2_offset_pct=2.09), gas, o2_pct=1.0)
        assert cautions & Caution.O2_BELOW_NOTHING
        assert done["o2_pct"].value[0] == 0.0

    def test_co_below_nothing_likewise(self, known, gas):
        done, cautions = self.cautions(known(co_offset_ppm=10.0), gas, co_ppm=3.0)
        assert cautions & Caution.CO_BELOW_NOTHING
        assert done["co_ppm"].value[0] == 0.0

    def test_a_stack_colder_than_the_air_has_no_loss(self, known, gas):
        done, cautions = self.cautions(known(), gas, stack_c=15.0)
        assert cautions & Caution.COLD_STACK
        assert np.isnan(done["efficiency_pct"].value[0])

    def test_a_fuel_without_constants_has_no_german_loss_but_a_gross_one(self, known):
        from flueproof.chemistry.fuels.reading import shipped_fuel

        pellets = shipped_fuel("wood-pellets")
        assert np.isnan(correct(readings(), known(), Convention(pellets))["loss_pct"].value[0])
        assert correct(readings(), known(), Convention(pellets, "heat-loss-gross"))["loss_pct"].value[0] > 10

    def test_a_dead_cell_leaves_co_unknown_and_the_rest_known(self, bench, gas):
        errors = errors_as_found(*bench(Truth(dead=frozenset({"co"})))[:2])
        done, cautions = self.cautions(errors, gas)
        assert cautions & Caution.CO_UNKNOWN
        assert np.isnan(done["co_air_free_ppm"].value[0])
        assert np.isfinite(done["loss_pct"].value[0])

    def test_beyond_the_strongest_gas_a_word_is_said(self, bench, gas):
        errors = errors_as_found(*bench()[:2])
        assert self.cautions(errors, gas, co_ppm=1500.0)[1] & Caution.CO_BEYOND_TESTED

    def test_a_display_that_cannot_go_below_nothing_hides_what_its_zero_took(self, bench, gas):
        errors = errors_as_found(*bench(Truth(zero={"co": -15.0}))[:2])
        done, cautions = self.cautions(errors, gas, co_ppm=0.0)
        assert cautions & Caution.CO_SHOWED_NOTHING
        assert done["co_ppm"].high[0] > 10.0

    def test_every_caution_has_its_words(self):
        assert all(words_of(int(caution)) for caution in Caution)
        assert words_of(0) == ()


def test_no_is_taken_off_where_it_was_written_and_never_where_it_was_not(known, gas):
    errors = known(co_on_no=0.2)
    written = correct(readings(no_ppm=100.0), errors, gas)
    open_ = correct(readings(), errors, gas)
    assert written["co_ppm"].value[0] == pytest.approx(80.0)
    assert open_["co_ppm"].value[0] == pytest.approx(100.0)
    assert int(open_.cautions[0]) & Caution.NO_NOT_WRITTEN


def test_every_result_names_its_convention(known, gas):
    words = correct(readings(), known(), gas).convention
    for part in ("natural gas", "dry", "20.9 %", "20.946 %", "net (LHV)", "21 %"):
        assert part in words
