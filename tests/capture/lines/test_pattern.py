import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.capture.lines.pattern import Shown, Unmatched, off_step
from flueproof.capture.lines.pattern_file import pattern_of, read_pattern

USUAL = read_pattern("simulated-us")
LINE = "O2={} % CO={} ppm T=72 F TA=72.0 F P=0.00 inH2O"


def shown(line, channel, pattern=USUAL):
    return {one.channel: one.shown for one in pattern.read(line)}[channel]


def test_every_channel_of_a_line_comes_with_its_unit_and_display_step():
    assert USUAL.read(LINE.format("20.9", "402"))[:2] == (Shown("o2", "%", 0.1, 20.9), Shown("co", "ppm", 1, 402))


def test_a_whole_number_stays_whole_and_a_broken_one_broken():
    assert type(shown(LINE.format("0.1", "402"), "co")) is int
    assert type(shown(LINE.format("21.0", "402"), "o2")) is float


@pytest.mark.parametrize("text", ["OVER", "----", "OFL"])
def test_a_text_of_a_display_is_kept_as_it_stands(text):
    assert shown(LINE.format("20.9", text), "co") == text


@pytest.mark.parametrize(
    "text",
    ["ERR7", "4O2", "1e3", "nan", "inf", "1,234.5", "٣", "9" * 400, "1000000001", "-1000000001.5", "1." + "3" * 30],
)
def test_what_is_neither_number_nor_text_gives_no_value_of_the_line(text):
    found = USUAL.read(LINE.format("20.9", text))
    assert isinstance(found, Unmatched)
    assert found.why.startswith("co: ")


def test_half_a_line_never_passes_for_a_smaller_number():
    whole = LINE.format("20.9", "402")
    for cut in range(1, len(whole)):
        assert isinstance(USUAL.read(whole[cut:]), Unmatched), whole[cut:]
        assert isinstance(USUAL.read(whole[:-cut]), Unmatched), whole[:-cut]


def test_a_decimal_comma_is_a_point():
    assert shown(LINE.format("20,9", "402"), "o2") == 20.9


def test_several_patterns_are_tried_in_order(counting):
    assert [one.channel for one in counting.read("N=1 CO=2.5 ppm")] == ["n", "co"]
    assert [one.channel for one in counting.read(" N=1 ")] == ["n"]


def test_a_group_that_is_not_in_the_line_gives_no_row():
    text = (
        'format = "flueproof-capture-pattern/1"\n[[line]]\npattern = "(?:A=(?P<a>[0-9]+))?(?:;B=(?P<b>[0-9]+))?"\n'
        '[channels.a]\nunit = "x"\nstep = 1\n[channels.b]\nunit = "x"\nstep = 1\n'
    )
    assert [one.channel for one in pattern_of(text).read("A=1")] == ["a"]
    assert isinstance(pattern_of(text).read(""), Unmatched)


def test_comments_and_empty_lines_are_passed_over(counting):
    assert counting.ignores("# hello")
    assert counting.ignores("  ")
    assert not counting.ignores("N=1")


def test_a_number_off_its_display_step_is_noticed():
    assert off_step(Shown("o2", "%", 0.1, 20.94))
    assert not off_step(Shown("o2", "%", 0.1, 20.9))
    assert not off_step(Shown("co", "ppm", 1, "OVER"))


@given(st.integers(-(10**6), 10**6), st.integers(0, 3))
def test_every_number_that_a_display_writes_is_read_as_it_is(whole, digits):
    text = f"{whole / 10**digits:.{digits}f}"
    assert shown(LINE.format("20.9", text), "co") == pytest.approx(float(text), abs=0)


@given(st.text(max_size=80))
def test_no_line_raises(line):
    assert USUAL.read(line) is not None
