"""Trace files of any logger, and refusals that name row and column."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.readings.csv_import import read_trace_csv
from flueproof.readings.errors import TraceFileError
from flueproof.readings.settling import settle


def traces(text, encoding="utf-8", **asked):
    return read_trace_csv(text.encode(encoding), **asked)


class TestFormats:
    def test_points_and_commas_of_a_plain_file(self):
        (co,) = traces("time_s,co_ppm\n0,0\n30,402\n60,468.5\n")
        assert (co.name, co.unit, co.times_s, co.shown) == ("co", "ppm", (0.0, 30.0, 60.0), (0.0, 402.0, 468.5))

    def test_semicolons_decimal_commas_units_and_a_byte_order_mark(self):
        co, oxygen = traces("\ufeffZeit [s];CO [ppm];O2 [Vol.-%]\r\n0;0;20,9\r\n1;12;18,25\r\n")
        assert (co.unit, oxygen.unit, oxygen.name) == ("ppm", "%", "O2")
        assert oxygen.shown == (20.9, 18.25)

    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "latin-1"])
    def test_encodings_are_told_apart(self, encoding):
        (stack,) = traces("time;Température °C\n0;20,5\n5;30,0\n", encoding)
        assert stack.unit == "degC"
        assert stack.name == "Température"

    @pytest.mark.parametrize("delimiter", [",", ";", "\t", "|", " "])
    def test_any_delimiter(self, delimiter):
        rows = [("t", "co", "o2"), ("0", "1", "20.9"), ("1", "5", "20.1"), ("2", "9", "19.5")]
        found = traces("\n".join(delimiter.join(row) for row in rows))
        assert [one.shown for one in found] == [(1.0, 5.0, 9.0), (20.9, 20.1, 19.5)]

    def test_an_unusual_delimiter_can_be_named(self):
        (co,) = traces("t:co\n0:1\n1:2\n", delimiter=":")
        assert co.shown == (1.0, 2.0)

    def test_the_line_that_spreadsheets_write_first_decides(self):
        (co,) = traces("sep=;\ntime;co\n0;1.234,5\n1;2.000,0\n")
        assert co.shown == (1234.5, 2000.0)

    def test_lines_above_the_header_and_a_row_of_units(self):
        (co,) = traces("Logger (invented)\nSerial;123\n\nt;CO\ns;ppm\n0;1\n30;402\n")
        assert (co.name, co.unit, co.shown) == ("CO", "ppm", (1.0, 402.0))

    def test_a_file_without_a_header(self):
        first, second = traces("0,1,20.9\n1,2,20.8\n")
        assert (first.name, second.name) == ("column 2", "column 3")

    def test_overflow_marks_are_bounds(self):
        (co,) = traces("time;co\n0;0\n1;OFL\n2;---\n3;OVER\n4;> 4000\n")
        assert co.looks.bounds == (None, "above", "absent", "above", "above")
        assert co.shown[1] == "OFL"

    def test_comments_empty_lines_and_quotes(self):
        (co,) = traces('# shop note\n\ntime,"CO, ppm"\n0,1\n1,"1,5"\n')
        assert co.shown == (1.0, 1.5)


class TestTimes:
    @pytest.mark.parametrize(
        ("first", "second", "apart"),
        [
            ("0", "30", 30),
            ("09:12:00", "09:12:30", 30),
            ("0:30", "1:00", 30),
            ("11:59:50 AM", "12:00:20 PM", 30),
            ("23:59:59", "00:00:29", 30),
            ("2026-11-03T09:12:00-05:00", "2026-11-03T09:12:30-05:00", 30),
            ("2026-11-03 23:59:59.500", "2026-11-04 00:00:29.500", 30),
            ("03.11.2026 09:12:00", "03.11.2026 09:12:30", 30),
            ("11/30/2026 9:12", "11/30/2026 9:13", 60),
        ],
    )
    def test_elapsed_clock_and_dated_times(self, first, second, apart):
        (co,) = traces(f"time;co\n{first};1\n{second};2\n")
        assert co.times_s == (0.0, pytest.approx(apart))

    @pytest.mark.parametrize(("unit", "seconds"), [("s", 1), ("min", 60), ("ms", 0.001), ("h", 3600)])
    def test_the_unit_of_the_time_column_counts(self, unit, seconds):
        (co,) = traces(f"t ({unit}),co\n0,1\n2,3\n")
        assert co.times_s[1] == pytest.approx(2 * seconds)

    def test_date_and_clock_in_two_columns(self):
        (co,) = traces("Datum;Uhrzeit;CO/ppm\n03.11.2026;23:59:58;1\n03.11.2026;23:59:59;2\n04.11.2026;00:00:00;3\n")
        assert co.times_s == (0.0, 1.0, 2.0)
        assert co.unit == "ppm"


class TestColumns:
    TEXT = "n;time;co [ppm];o2 [%]\n1;0;5;20.9\n2;1;6;20.8\n"

    @pytest.mark.parametrize("asked", ["co", "CO", "co_ppm", "co [ppm]", "3"])
    def test_a_column_answers_to_header_name_unit_or_number(self, asked):
        (co,) = traces(self.TEXT, column=asked)
        assert co.shown == (5.0, 6.0)

    def test_foreign_headers_are_mapped_to_our_names(self):
        co, oxygen = traces(self.TEXT, mapping={"co_ppm": "co [ppm]", "o2_pct": "4"})
        assert (co.name, oxygen.name) == ("co_ppm", "o2_pct")

    def test_the_time_column_can_be_named(self):
        (co,) = traces("co;when\n5;0\n6;10\n", column="co", time_column="when")
        assert co.times_s == (0.0, 10.0)

    def test_a_missing_column_lists_what_is_there(self):
        with pytest.raises(TraceFileError, match=r"column no: is not in the file.*2 'time'"):
            traces(self.TEXT, column="no")

    def test_two_columns_of_one_name_are_not_guessed(self):
        with pytest.raises(TraceFileError, match="more than once"):
            traces("time;co;co\n0;1;2\n1;1;2\n", column="co")

    def test_the_time_column_is_no_channel(self):
        with pytest.raises(TraceFileError, match="is the time column"):
            traces(self.TEXT, column="time")


@pytest.mark.parametrize(
    ("text", "row", "column", "says"),
    [
        ("time;co\n0;1\n2;3\n1;4\n", 4, "time", "goes back by 1 s"),
        ("time;co\n0;1\n2;NaN\n", 3, "co", "no reading"),
        ("time;co\n0;1\n2;inf\n", 3, "co", "no reading"),
        ("time;co\n0;1\n2;abc\n", 3, "co", "neither a number nor a text"),
        ("time;co\n0;1\n2\n", 3, "co", "missing"),
        ("time;co\n0;1\nx;2\n", 3, "time", "no time"),
        ("Datum;Zeit;CO\n03.11.2026;09:00:00;1\nx;09:00:01;2\n", 3, "Datum", "no date"),
        ("time,co\n", 1, None, "no row has a time and a reading"),
        ("time;co\n0;1e999\n1;2\n", 2, "co", "no reading"),
    ],
)
def test_what_is_wrong_is_named_by_row_and_column(text, row, column, says):
    with pytest.raises(TraceFileError, match=says) as caught:
        traces(text)
    assert (caught.value.row, caught.value.column) == (row, column)
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"\xef\xbb\xbf\r\n  ", "empty"),
        (b"\x00\x01\x02PK\x03\x04", "control characters"),
        (b"hello world\nfoo\nbar", "no delimiter"),
        (b"a,b\n" + b"1,2\n" * 5_100_000, "at most 20,000,000"),
        (b"t,co\n" + b"0,1\n" * 200_001, "more than 200,000 rows"),
        (b'time,co\n0,"1\n1,2\n', "quotation mark"),
        (b"time,co,flag\n0,----,x\n1,----,y\n", "no column holds numbers"),
    ],
)
def test_files_that_are_no_traces_are_refused(data, says):
    with pytest.raises(TraceFileError, match=says):
        read_trace_csv(data)


@pytest.mark.parametrize(
    ("asked", "says"),
    [({"encoding": "ascii"}, "not text in ascii"), ({"encoding": "no-such"}, "no-such"), ({"decimal": "x"}, "decimal")],
)
def test_wrong_settings_are_refused(asked, says):
    with pytest.raises(TraceFileError, match=says):
        read_trace_csv("time;°C\n0;1\n".encode(), **asked)


def refused_or_read(data):
    """The traces, or None with a refusal that says what to do."""
    try:
        return read_trace_csv(data)
    except TraceFileError as error:
        return None if error.remedy else [error]


@given(st.binary(max_size=400))
def test_any_bytes_give_traces_or_a_plain_refusal(data):
    assert all(len(one.times_s) == len(one.shown) for one in refused_or_read(data) or ())


@given(st.text(alphabet="0123456789.,;:\t\n-ABtimeco OFL/[]%", max_size=300))
def test_any_text_gives_traces_in_order_of_time_or_a_plain_refusal(text):
    assert all(np.all(np.diff(one.times_s) >= 0) for one in refused_or_read(text.encode()) or ())


def test_a_file_settles_like_the_trace_it_holds(make_response):
    response = make_response()
    times = np.arange(0.0, 121.0)
    shown = response.shown(times)
    text = "t_s;co_ppm\n" + "\n".join(f"{time:g};{value:g}" for time, value in zip(times, shown, strict=True))
    (co,) = traces(text, step=1.0)
    assert settle(co.looks, gas_on_s=0.0).value == settle(response.looks(), gas_on_s=0.0).value


@pytest.mark.parametrize("word", ["inf", "-inf", "nan", "Infinity"])
def test_a_first_row_of_readings_without_a_finite_number_is_refused_and_no_header(word):
    with pytest.raises(TraceFileError, match=r"row 1, column column 2: .* is no reading"):
        read_trace_csv(f"1,{word}\n2,5\n3,6\n".encode())
