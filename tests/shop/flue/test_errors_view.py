"""What an error does: the same flue read by analyzers that are wrong in one thing."""

import re

import pytest


def cells(text, name):
    """Return the text of a row of the comparison."""
    found = next(one for one in re.findall(r"<tr[^>]*>(<th scope=.row.[^>]*>.*?)</tr>", text, re.DOTALL) if name in one)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", found))


def test_the_cases_of_the_published_comparison_at_5_percent(flue):
    """Reference sheet, section 9, true 5 %: natural gas, 200/20 degC, CO 100 ppm."""
    status, text = flue(view="errors")
    assert status == 200
    assert "131.4" in cells(text, "Right in everything")
    channel = cells(text, "O2 channel +1 % everywhere")
    assert "36.1" in channel
    assert "140.3" in channel
    assert "+6.7 %" in channel
    assert "−0.50" in channel
    assert "105.2" in cells(text, "CO gain 20 % low")
    assert "−20.0 %" in cells(text, "CO gain 20 % low")
    assert "90.45" in cells(text, "Stack +10 °C")
    assert "89.95" in cells(text, "No air sensor, 0 °C used")


def test_a_leak_cancels_in_co_air_free_and_an_o2_error_does_not(flue):
    _, text = flue(view="errors", leak="6.27")
    leak = cells(text, "Sample leak, 6.27 % room air")
    assert "131.4 = unchanged" in leak
    assert "36.1" in leak
    assert "the leak takes the same share from CO" in leak
    assert "CO looks higher than it is." in cells(text, "O2 channel +1 % everywhere")


def test_a_zero_error_of_a_unit_that_sets_itself_in_air_is_smaller_at_5_percent(flue):
    """Section 9: 0.76 of the zero error is left at 5 % O2."""
    _, text = flue(view="errors")
    assert "reads O2 5.76 %" in cells(text, "O2 zero +1 %, set to 20.9 % in air")


def test_an_error_that_makes_co_look_lower_is_called_a_danger(flue):
    _, text = flue(view="errors", by_o2="-0.3")
    assert "danger" in cells(text, "CO gain 20 % low")
    assert "danger" in cells(text, "O2 channel −0.3 % everywhere")
    assert "O2 zero" not in re.sub(r"<form.*?</form>", "", text, flags=re.DOTALL)


def test_without_co_its_rows_and_columns_are_not_there(flue):
    _, text = flue(view="errors", co="")
    assert "CO gain 20" not in text
    assert "CO air-free, ppm" not in text


def test_a_wrong_reading_that_the_core_refuses_is_shown_as_refused(flue):
    _, text = flue(view="errors", o2="17.5")
    assert "refused" in cells(text, "O2 channel +1 % everywhere")


def test_sizes_in_the_unit_of_the_page(flue):
    _, text = flue(view="errors", unit="degF", stack="392", air="68")
    assert "Stack +18 °F" in text
    assert "No air sensor, 32 °F used" in text


@pytest.mark.parametrize("fuel", ["wood-pellets", "bituminous-coal"])
def test_a_solid_fuel_is_compared_by_the_exact_balance(flue, fuel):
    _, text = flue(view="errors", fuel=fuel)
    assert "Efficiency, net, exact, %" in text
