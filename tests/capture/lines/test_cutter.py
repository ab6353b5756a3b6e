from hypothesis import given
from hypothesis import strategies as st

from flueproof.capture.lines.cutter import LineCutter

LINES = st.lists(st.text(st.characters(codec="ascii", exclude_characters="\r\n"), min_size=1, max_size=30), max_size=12)


def in_chunks(cutter, stream, cuts):
    found, at = [], 0
    for cut in sorted(cut % (len(stream) + 1) for cut in cuts):
        found += cutter.feed(stream[at:cut])
        at = cut
    return found + cutter.feed(stream[at:])


@given(LINES, st.sampled_from(["\n", "\r", "\r\n", "\n\r\n"]), st.lists(st.integers(0, 500), max_size=8))
def test_lines_come_whole_however_the_bytes_trickle_in(lines, end, cuts):
    stream = "".join(line + end for line in lines).encode()
    assert in_chunks(LineCutter(), stream, cuts) == lines


@given(LINES, st.lists(st.integers(0, 500), max_size=8))
def test_of_a_stream_joined_in_the_middle_only_the_first_piece_is_dropped(lines, cuts):
    cutter = LineCutter(joined=True)
    stream = "".join(line + "\n" for line in ["02 ppm", *lines]).encode()
    assert in_chunks(cutter, stream, cuts) == lines
    assert cutter.dropped == 1


def test_joined_exactly_between_two_lines_nothing_is_lost():
    cutter = LineCutter(joined=True)
    assert cutter.feed(b"\nN=1\n") == ["N=1"]
    assert cutter.dropped == 0


def test_a_line_without_an_end_is_dropped_when_the_connection_ends():
    cutter = LineCutter()
    assert cutter.feed(b"N=1\nN=2") == ["N=1"]
    cutter.end()
    assert cutter.dropped == 1
    assert cutter.feed(b"3\n") == ["3"]


def test_a_line_that_never_ends_is_given_up_in_pieces():
    cutter = LineCutter(longest=10)
    assert cutter.feed(b"x" * 25) == ["x" * 10, "x" * 10]
    assert cutter.feed(b"\n") == ["x" * 5]


def test_bytes_that_do_not_fit_become_a_mark():
    assert LineCutter("utf-8").feed(b"T=20\xb0C\n") == ["T=20\ufffdC"]
    assert LineCutter("latin-1").feed(b"T=20\xb0C\n") == ["T=20°C"]
