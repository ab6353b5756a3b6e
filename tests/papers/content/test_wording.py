import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.papers.content.wording import day_on_paper, on_paper


@pytest.mark.parametrize(
    ("said", "printed"),
    [
        ("O2 took 26 s; O2-free gas, CO2 and NO2.", "O₂ took 26 s; O₂-free gas, CO₂ and NO₂."),
        ("cylinder CYL-CO2-1 and cell O2A", "cylinder CYL-CO2-1 and cell O2A"),
        ("CO shows 15.1839 ppm on 59.6 ppm NO", "CO shows 15.18 ppm on 59.6 ppm NO"),
        ("NO on gas without it: 1.00002 ppm", "NO on gas without it: 1 ppm"),
        ("expired on 2026-09-01; done on 2026-13-40", "expired on 1 September 2026; done on 2026-13-40"),
        ("O2 in room air: -3.5 % off; CO -12, cell A-7", "O₂ in room air: −3.5 % off; CO −12, cell A-7"),
        ("serial 1.2345.6", "serial 1.2345.6"),
    ],
)
def test_formulas_numbers_and_days_read_as_elsewhere_on_the_page(said, printed):
    assert on_paper(said) == printed


class TestNistSp811AppendixB8:
    """NIST SP 811 (2008), B.8: values go to the shop's units where the sentence shows that they are values."""

    def test_a_temperature_and_a_pressure(self):
        assert on_paper("Stack shows 100 degC at 200 degC.", "us") == "Stack shows 212.0 °F at 392.0 °F."
        assert on_paper("Draft shows -24.908891 Pa", "us") == "Draft shows −0.1000 inH₂O"
        assert on_paper("Stack shows 100 degC at 200 degC.", "si") == "Stack shows 100 °C at 200 °C."

    def test_what_may_be_a_difference_keeps_its_number(self):
        assert on_paper("off by 9 degC", "us") == "off by 9 °C"


def test_a_references_key_gets_its_name_and_a_longer_key_wins():
    named = {"cyl-1": "A (cylinder C-7)", "cyl-1-b": r"B (\1)"}
    assert on_paper("With cyl-1 settled, then cyl-1-b.", named=named) == r"With A (cylinder C-7) settled, then B (\1)."


def test_days_and_months_of_a_record_are_words():
    assert day_on_paper("2024-06") == "June 2024"
    assert day_on_paper("2024-10-02") == "2 October 2024"
    assert day_on_paper("soon") == "soon"


@given(st.text(max_size=80), st.sampled_from(["us", "si"]))
def test_any_text_is_taken(text, units):
    assert isinstance(on_paper(text, units, {"a": "b"}), str)
