"""A concentration at a reference O2."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.errors import FlueGasError, NearAmbientError
from flueproof.chemistry.oxygen.co_air_free import co_air_free
from flueproof.chemistry.oxygen.reference_o2 import at_reference_o2_german, at_reference_o2_us

FORMS = pytest.mark.parametrize("form", [at_reference_o2_german, at_reference_o2_us])


@FORMS
@given(value=st.floats(0.0, 1e4), o2=st.floats(0.0, 14.0), reference=st.floats(0.0, 15.0))
def test_brought_there_and_back_it_is_the_same(form, value, o2, reference):
    there = form(value, o2, reference, unit="ppm").value
    assert form(there, reference, o2, unit="ppm").value == pytest.approx(value, abs=1e-9)


@FORMS
def test_at_the_reference_itself_nothing_changes(form):
    assert form(77.0, 3.0, 3.0, unit="mg/m3").value == pytest.approx(77.0)


@FORMS
def test_it_says_unit_and_basis(form):
    found = form(77.0, 5.0, 13.0, unit="mg/m3")
    assert (found.unit, found.basis.reference_o2_pct, found.basis.moisture) == ("mg/m3", 13.0, "dry")
    assert "at 13 % O2" in found.basis.in_words()


def test_reference_zero_of_the_us_form_is_air_free():
    assert at_reference_o2_us(100.0, 6.0, 0.0, unit="ppm").value == co_air_free(100.0, 6.0).value


@FORMS
@pytest.mark.parametrize("reference", [-1.0, 17.5, 21.0, float("nan")])
def test_a_reference_that_no_rule_names_is_refused(form, reference):
    with pytest.raises(FlueGasError, match="reference O2"):
        form(100.0, 5.0, reference, unit="ppm")


@FORMS
def test_near_ambient_is_refused_or_marked(form):
    with pytest.raises(NearAmbientError):
        form(100.0, 18.5, 3.0, unit="ppm")
    assert form([100.0, 100.0], [18.5, 16.0], 3.0, unit="ppm", outside="nan").refused.tolist() == [True, False]
