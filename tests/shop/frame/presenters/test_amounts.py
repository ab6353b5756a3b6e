"""Values in the unit that a person chose, and as templates print them."""

import math

import pytest
from django.template import Context, Template
from django.test import RequestFactory
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.frame.presenters.amounts import pressure, printed, temperature, temperature_difference
from flueproof.shop.records.models import Person

US = Person(username="x", temperature_unit="degF", pressure_unit="inH2O")
SI = Person(username="y", temperature_unit="degC", pressure_unit="Pa")
MBAR = Person(username="z", temperature_unit="degC", pressure_unit="mbar")


@pytest.mark.parametrize(
    ("celsius", "person", "told"),
    [
        (100.0, US, "212.0\u00a0°F"),
        (100.0, SI, "100.0\u00a0°C"),
        (-40.0, US, "−40.0\u00a0°F"),
        (0.0, US, "32.0\u00a0°F"),
    ],
)
def test_a_temperature(celsius, person, told):
    """Fixed points of water and where the two scales meet: exact by definition of the degree Fahrenheit."""
    assert str(temperature(celsius, person)) == told


@pytest.mark.parametrize(
    ("kelvin", "person", "told"), [(10.0, US, "18.0\u00a0°F"), (10.0, SI, "10.0\u00a0°C"), (0.0, US, "0.0\u00a0°F")]
)
def test_a_difference_scales_and_never_shifts(kelvin, person, told):
    assert str(temperature_difference(kelvin, person)) == told


@pytest.mark.parametrize(
    ("pascal", "person", "told"),
    [(-25.0, SI, "−25.0\u00a0Pa"), (-25.0, MBAR, "−0.250\u00a0mbar"), (249.0889, US, "1.000\u00a0inH₂O")],
)
def test_a_pressure(pascal, person, told):
    """1 inH2O = 249.0889 Pa (conventional inch of water): NIST SP 811, appendix B, from memory; 1 mbar = 100 Pa."""
    assert str(pressure(pascal, person)) == told


def test_a_stranger_reads_what_the_shop_begins_with():
    assert str(temperature(100.0, None)) == "212.0\u00a0°F"


@pytest.mark.parametrize("value", [None, math.nan, math.inf])
def test_no_value_is_a_dash_without_a_unit(value):
    assert str(temperature(value, US)) == str(pressure(value, US)) == "–"


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_a_printed_number_is_the_rounded_one_and_never_a_minus_zero(value, decimals):
    text = printed(value, decimals)
    assert float(text.replace("−", "-")) == float(f"{value:.{decimals}f}")
    assert "-" not in text
    assert not (text.startswith("−") and float(text[1:]) == 0)


@given(st.floats(-100, 1200))
def test_the_units_of_two_people_say_the_same_temperature(celsius):
    in_f, in_c = (float(temperature(celsius, who, 6).number.replace("−", "-")) for who in (US, SI))
    assert in_f == pytest.approx(in_c * 9 / 5 + 32, abs=2e-6)


def shown(text, person=US, **values):
    request = RequestFactory().get("/")
    request.user = person
    return Template(text).render(Context({"request": request, **values}))


def test_templates_have_the_tags_without_loading_them():
    assert shown("{% temperature 100.0 %}") == '<span class="amount">212.0\u00a0<span class="unit">°F</span></span>'
    assert "100.00" in shown("{% temperature 100.0 2 %}", SI)
    assert "18.0" in shown("{% temperature_difference 10.0 %}")
    assert "mbar" in shown("{% pressure -25.0 %}", MBAR)
    assert shown("{% temperature nothing %}", nothing=None) == "–"


def test_a_right_is_asked_in_a_template():
    text = '{% if request.user|may:"sign" %}yes{% else %}no{% endif %}'
    assert shown(text, Person(username="s", role="signer")) == "yes"
    assert shown(text, Person(username="c", role="counter")) == "no"
