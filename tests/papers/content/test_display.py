import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.papers.content.display import aligned, display_of, name_of, plain_number, rounded, signed, to_places


class TestNistSp811AppendixB8:
    """NIST SP 811 (2008), Appendix B.8: degF and conventional inH2O; a difference scales and never shifts."""

    def test_a_temperature_and_a_difference(self):
        shown = display_of("degC", "us")
        assert shown.value(199.8) == pytest.approx(391.64)
        assert shown.difference(3.0) == pytest.approx(5.4)
        assert shown.sign == "°F"

    def test_a_pressure(self):
        shown = display_of("Pa", "us")
        assert shown.value(249.08891) == pytest.approx(1.0)
        assert shown.difference(-24.908891) == pytest.approx(-0.1)

    @pytest.mark.parametrize("unit", ["%", "ppm"])
    def test_gas_units_are_the_same_for_both(self, unit):
        assert display_of(unit, "us") == display_of(unit, "si")


class TestJcgm100Clause726:
    """JCGM 100:2008, 7.2.6: the example 10.057 62 ohm with 27 milliohm is rounded to 10.058 ohm."""

    def test_example(self):
        assert rounded(10.05762, 0.027) == ("10.058", "0.027")


def test_rounding_keeps_the_sign_readable():
    assert rounded(-12.44, 5.06) == ("−12.4", "5.1")
    assert rounded(-0.001, 0.05)[0] in {"0.000", "−0.001"}
    assert rounded(float("nan"), 1.0) == ("–", "–")
    assert rounded(3.25, 0.0) == ("3.25", "–")
    assert signed("-5") == "−5"
    assert to_places(-0.0001, "0.1") == "0.0"
    assert plain_number(123456.0) == "123456"


@given(st.lists(st.from_regex(r"\A−?[0-9]{1,4}(\.[0-9]{1,4})?\Z"), min_size=1, max_size=6))
def test_text_and_hidden_padding_together_have_equal_decimals(texts):
    cells = aligned(texts)
    tails = {len((cell["t"] + cell["pad"]).partition(".")[2]) for cell in cells}
    assert len(tails) == 1
    assert [cell["t"] for cell in cells] == texts


def test_a_dash_gets_no_padding():
    assert aligned(["1.25", "–"])[1] == {"t": "–", "pad": ""}


def test_channels_have_the_names_of_the_trade():
    assert name_of("o2") == "O₂"
    assert name_of("unknown", "Soot") == "Soot"
    assert name_of("unknown") == "unknown"
