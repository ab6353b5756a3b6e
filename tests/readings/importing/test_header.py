"""Names and units in headers."""

import pytest

from flueproof.readings.errors import TraceFileError
from flueproof.readings.importing.header import SPELLINGS, UNITS, column_of, known_unit, split_header
from flueproof.readings.importing.text import Row


@pytest.mark.parametrize("header", ["CO [ppm]", "CO (ppm)", "CO/ppm", "CO_ppm", "CO ppm", "CO, ppm"])
def test_a_unit_is_found_in_any_of_the_usual_forms(header):
    column = column_of(0, header)
    assert (column.name, column.unit) == ("CO", "ppm")


@pytest.mark.parametrize("unit", sorted(SPELLINGS))
def test_every_unit_is_known_in_brackets(unit):
    for written in SPELLINGS[unit]:
        assert column_of(0, f"x [{written}]").unit == UNITS[written] == unit


def test_what_is_no_unit_stays_in_the_name():
    assert column_of(0, "CO (raw)").name == "CO (raw)"
    assert known_unit("furlong") is None


def test_no_readings_are_refused():
    with pytest.raises(TraceFileError, match="no row has a time"):
        split_header([Row(1, ("a", "b"))], [False])
