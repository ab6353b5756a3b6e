"""Messages that name the place."""

import pytest

from flueproof.readings import errors


def test_a_trace_file_error_names_row_and_column():
    error = errors.TraceFileError("'x' is no time.", "Write seconds.", row=3, column="t")
    assert str(error) == "row 3, column t: 'x' is no time. Write seconds."
    assert (error.row, error.column, error.remedy) == (3, "t", "Write seconds.")


@pytest.mark.parametrize("name", ["ShownError", "TimesError", "NoReadingsError", "PriorError", "TraceFileError"])
def test_all_errors_of_the_room_are_one_family(name):
    assert issubclass(getattr(errors, name), errors.ReadingsError)
