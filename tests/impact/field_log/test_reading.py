"""Logs as owners write them: tolerant where it is clear, a question where it is not, one message where it fails."""

import contextlib
import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.impact.errors import FieldLogError
from flueproof.impact.field_log import reading as module
from flueproof.impact.field_log.reading import read_log, typed_log
from flueproof.impact.field_log.row import VALUES, FieldRow, LogSettings, row_from_dict

PLAIN = (
    "date,site,fuel,O2 (%),CO (ppm),stack (°C),air (°C),efficiency\n2026-03-04,Elm 12,natural gas,5.0,32,200,20,85\n"
)


def read(text, **settings):
    return read_log(text.encode(), LogSettings(**settings) if settings else None)


def test_a_plain_log_is_read():
    (row,) = read(PLAIN).rows
    assert row == FieldRow(2, dt.date(2026, 3, 4), "Elm 12", "natural-gas-us", 5.0, 32.0, 200.0, 20.0, row.no_ppm, 85.0)
    assert math.isnan(row.no_ppm)


def test_semicolons_decimal_commas_and_fahrenheit():
    text = (
        "Datum;Anlage;Brennstoff;O2 %;CO ppm;Abgastemperatur °F;Lufttemperatur °F\n04.03.2026;A;Erdgas;5,0;32;392;68\n"
    )
    (row,) = read(text).rows
    assert (row.day, row.o2_pct, row.stack_c, row.air_c) == (dt.date(2026, 3, 4), 5.0, 200.0, 20.0)


@pytest.mark.parametrize("header", ["O2", "Oxygen [%]", "O₂ (%)", "o2_%", "O2 dry"])
def test_header_words_are_taken_as_people_write_them(header):
    assert read(f"{header},CO\n5,10\n").rows[0].o2_pct == 5.0


def test_columns_that_are_computed_are_not_taken_for_the_measured_ones():
    log = read("O2,CO air free,CO\n5,131,100\n")
    assert log.rows[0].co_ppm == 100.0
    assert ("CO", "co_ppm") in log.columns


def test_a_unit_in_the_cell_counts_before_that_of_the_header():
    assert read("O2,stack (°C),air (°C)\n5,392 °F,20\n").rows[0].stack_c == pytest.approx(200.0)


def test_co_in_per_cent_becomes_ppm():
    assert read("O2 %,CO %\n5,0.01\n").rows[0].co_ppm == pytest.approx(100.0)


def test_temperatures_without_a_unit_are_asked_for_and_nothing_is_guessed():
    text = "O2,CO,stack,air\n5,10,392,68\n"
    log = read(text)
    assert (log.rows, [one.setting for one in log.questions]) == ((), ["temperature_unit"])
    assert read(text, temperature_unit="degF").rows[0].stack_c == pytest.approx(200.0)
    assert read(text, temperature_unit="degC").rows[0].stack_c == 392.0


def test_dates_that_can_be_read_both_ways_are_asked_for():
    text = "date,O2\n03/04/2026,5\n05/06/2026,6\n"
    log = read(text)
    assert (log.rows, [one.setting for one in log.questions]) == ((), ["date_order"])
    assert len(log.questions[0].choices) == 2
    assert read(text, date_order="month-first").rows[0].day == dt.date(2026, 3, 4)
    assert read(text, date_order="day-first").rows[0].day == dt.date(2026, 4, 3)


def test_one_date_that_can_be_read_only_one_way_tells_the_others():
    assert read("date,O2\n03/04/2026,5\n03/25/2026,6\n").rows[0].day == dt.date(2026, 3, 4)
    assert read("date,O2\n03/04/2026,5\n25/03/2026,6\n").rows[0].day == dt.date(2026, 4, 3)


@pytest.mark.parametrize(("cell", "column", "match"), [
    ("abc", "O2", "no number"),
    ("45", "O2", "cannot be: allowed is -1 to 25"),
    ("", "O2", "no O2 reading"),
    ("--", "O2", "no O2 reading"),
])  # fmt: skip
def test_a_bad_cell_leaves_its_line_out_with_one_message(cell, column, match):
    log = read(f"date,O2,CO\n2026-03-04,{cell},10\n2026-03-05,5,10\n")
    assert len(log.rows) == 1
    (problem,) = log.problems
    assert (problem.line, problem.column) == (2, column)
    assert match in problem.message
    assert "line 2" in str(problem)


@pytest.mark.parametrize(("text", "column"), [
    ("date,O2\nyesterday,5\n", "date"),
    ("date,O2\n2026-02-30,5\n", "date"),
    ("O2,fuel\n5,unobtainium\n", "fuel"),
    ("O2,CO\n5,-5000\n", "CO"),
])  # fmt: skip
def test_the_message_names_line_and_column(text, column):
    (problem,) = read(text).problems
    assert (problem.line, problem.column) == (2, column)


def test_a_thousands_sign_that_may_be_a_decimal_one_is_not_guessed():
    (problem,) = read("O2;CO;date\n5.0;1.250;2026-01-01\n").problems
    assert "two ways" in problem.message


@pytest.mark.parametrize(("data", "match"), [
    (b"", "empty"),
    (b"   \n \n", "empty"),
    (b"date,O2\n", "no reading below"),
    (b"date,CO\n2026-01-01,5\n", "no column with O2"),
    (b"O2,Oxygen\n5,5\n", "both look like o2"),
    (b"O2,CO (degC)\n5,5\n", "give it in ppm or %"),
    (b"\x00\x01\x02O2\n5\n", "no text"),
    (b'O2,CO\n5,"10\n', "cut into cells"),
])  # fmt: skip
def test_a_file_that_is_none_is_refused_whole(data, match):
    with pytest.raises(FieldLogError, match=match):
        read_log(data)


def test_a_file_too_large_is_refused_before_it_is_read(monkeypatch):
    monkeypatch.setattr(module, "MOST_BYTES", 20)
    with pytest.raises(FieldLogError, match="at most 20"):
        read_log(PLAIN.encode())
    monkeypatch.setattr(module, "MOST_BYTES", 10_000)
    monkeypatch.setattr(module, "MOST_ROWS", 3)
    with pytest.raises(FieldLogError, match="more than 3"):
        read_log(b"O2\n" + b"5\n" * 5)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_encodings_of_spreadsheets_are_read(encoding):
    assert read_log("O2,site,stack °C,air °C\n5,Müller,200,20\n".encode(encoding)).rows[0].site == "Müller"


def test_an_error_says_where():
    error = FieldLogError("wrong.", line=3, column="CO")
    assert (error.line, error.column, str(error)) == (3, "CO", "line 3: column 'CO': wrong.")


class TestTyped:
    def test_rows_typed_on_a_page_are_read_like_a_file(self):
        rows = [{"day": "2026-03-04", "o2": "5.0", "co": "32", "stack": "392", "air": "68"}, {"o2": "", "co": ""}]
        log = typed_log(rows, LogSettings(temperature_unit="degF", fuel="propane"))
        (row,) = log.rows
        assert (row.line, row.fuel, row.stack_c) == (1, "propane", pytest.approx(200.0))

    def test_one_value_at_a_time_is_enough(self):
        assert typed_log([{"o2": "5", "co": "100"}]).rows[0].co_ppm == 100.0

    def test_a_decimal_comma_is_understood(self):
        assert typed_log([{"o2": "5,4"}]).rows[0].o2_pct == pytest.approx(5.4)

    def test_what_is_wrong_is_said_with_its_row(self):
        (problem,) = typed_log([{"o2": "5"}, {"o2": "x"}]).problems
        assert (problem.line, problem.column) == (2, "o2")

    def test_a_unit_is_asked_for(self):
        assert typed_log([{"o2": "5", "stack": "392"}]).questions


@given(st.lists(st.tuples(st.floats(0, 20).map(lambda x: round(x, 1)), st.integers(0, 5000)), min_size=1, max_size=20),
       st.sampled_from([",", ";", "\t"]))  # fmt: skip
def test_what_was_written_is_what_is_read(readings, sign):
    lines = [sign.join(["O2", "CO"]), *(sign.join([f"{o2:.1f}", str(co)]) for o2, co in readings)]
    log = read("\n".join(lines))
    assert [(row.o2_pct, row.co_ppm) for row in log.rows] == readings
    assert not log.problems


@given(st.binary(max_size=300))
def test_no_bytes_make_it_stumble(data):
    with contextlib.suppress(FieldLogError):
        assert read_log(data).rows is not None


def test_a_row_goes_through_json_and_back():
    (row,) = read(PLAIN).rows
    again = row_from_dict(row.as_dict())
    assert again.as_dict() == row.as_dict()
    assert set(VALUES) <= set(row.as_dict())
