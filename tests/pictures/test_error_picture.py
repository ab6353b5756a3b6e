import math
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.pictures.error_picture import ErrorMark, error_picture
from flueproof.pictures.errors import EmptyPictureError

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ET.fromstring(drawing)  # noqa: S314  (a drawing of our own)


def mark_of(error, statement, *, limit=25.0, expanded=5.0, guard=0.0, label="502 tip"):
    return ErrorMark(label, error, expanded, -limit, limit, statement, f"{error}", f"{expanded}", f"±{limit}", guard)


def drawn(*marks):
    return parsed(error_picture("CO", "ppm", marks).svg)


def words(tree):
    return [found.text for found in tree.iter(f"{SVG}text")]


def test_conform_is_a_filled_disc_inside_the_band():
    tree = drawn(mark_of(10.0, "conform"))
    (disc,) = tree.iter(f"{SVG}circle")
    band = next(tree.iter(f"{SVG}rect"))
    left = float(band.attrib["x"])
    assert disc.attrib["fill"] != "#ffffff"
    assert left < float(disc.attrib["cx"]) < left + float(band.attrib["width"])
    assert "conform" in words(tree)


def test_not_conform_is_a_filled_diamond_outside_with_a_bar_to_the_limit():
    tree = drawn(mark_of(-40.0, "not-conform"))
    (diamond,) = tree.iter(f"{SVG}polygon")
    band, bar = list(tree.iter(f"{SVG}rect"))
    middle = sum(float(corner.split(",")[0]) for corner in diamond.attrib["points"].split()) / 4
    assert middle < float(band.attrib["x"])
    assert float(bar.attrib["x"]) == pytest.approx(middle, abs=0.02)
    assert float(bar.attrib["x"]) + float(bar.attrib["width"]) == pytest.approx(float(band.attrib["x"]), abs=0.02)
    assert "not conform" in words(tree)


def test_undecided_is_a_hollow_disc_whose_bar_crosses_the_limit():
    tree = drawn(mark_of(23.0, "undecided"))
    (disc,) = tree.iter(f"{SVG}circle")
    band = next(tree.iter(f"{SVG}rect"))
    limit = float(band.attrib["x"]) + float(band.attrib["width"])
    bar = next(path.attrib["d"] for path in tree.iter(f"{SVG}path"))
    ends = bar.removeprefix("M").split("M")[0]
    low, high = float(ends.split(" ")[0]), float(ends.split("H")[1])
    assert disc.attrib["fill"] == "#ffffff"
    assert low < limit < high
    assert "too close to call" in words(tree)


def test_an_error_many_limits_away_is_drawn_at_the_edge_with_a_break():
    far = drawn(mark_of(-502.0, "not-conform"))
    near = drawn(mark_of(-40.0, "not-conform"))
    strokes = [path for path in far.iter(f"{SVG}path") if "L" in path.attrib["d"]]
    assert len(strokes) == 1
    assert not [path for path in near.iter(f"{SVG}path") if "L" in path.attrib["d"]]


def test_a_point_without_a_number_keeps_its_row_and_its_word():
    tree = drawn(mark_of(math.nan, "not-conform"))
    assert "none" in words(tree)
    assert "not conform" in words(tree)
    assert not list(tree.iter(f"{SVG}polygon"))


def test_a_one_sided_limit_leaves_the_other_side_open():
    entry = ErrorMark("bound", 1.0, 0.5, None, 2.0, "conform", "1.0", "0.5", "2.0")
    band = next(drawn(entry).iter(f"{SVG}rect"))
    two = next(drawn(mark_of(1.0, "conform", limit=2.0, expanded=0.5)).iter(f"{SVG}rect"))
    assert float(band.attrib["width"]) > float(two.attrib["width"])


def test_a_guard_band_adds_a_dotted_line_on_each_side():
    dashes = lambda tree: [line.attrib.get("stroke-dasharray") for line in tree.iter(f"{SVG}line")]  # noqa: E731
    assert dashes(drawn(mark_of(1.0, "conform", guard=3.0))).count("0.6 1.6") == 2
    assert dashes(drawn(mark_of(1.0, "conform"))).count("0.6 1.6") == 0


def test_the_picture_carries_its_caption_and_the_table_behind_it():
    picture = error_picture("CO", "ppm", [mark_of(10.0, "conform"), mark_of(-40.0, "not-conform")])
    assert picture.caption == "CO: 1 of 2 outside the limits."
    assert picture.header == ("Test point", "Error, ppm", "U, ppm", "Limit, ppm", "Statement")
    assert picture.rows[1] == ("502 tip", "-40.0", "5.0", "±25.0", "not conform")
    assert error_picture("CO", "ppm", [mark_of(-40.0, "not-conform")]).caption == "CO: outside the limits."
    assert error_picture("CO", "ppm", [mark_of(1.0, "conform")] * 2).caption == "CO: both points lie inside the limits."


def test_a_picture_of_nothing_is_refused():
    with pytest.raises(EmptyPictureError, match="CO"):
        error_picture("CO", "ppm", [])


def test_an_unknown_statement_is_no_mark():
    with pytest.raises(KeyError):
        error_picture("CO", "ppm", [mark_of(1.0, "fine")])


NUMBERS = st.floats(-1e9, 1e9)


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            NUMBERS,
            st.floats(0, 1e9),
            st.floats(0, 1e9),
            st.sampled_from(["conform", "undecided", "not-conform"]),
            st.text(),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_the_numbers_everything_stays_on_the_paper(entries):
    marks = [mark_of(e, s, limit=limit, expanded=u, label=label) for e, u, limit, s, label in entries]
    picture = error_picture("CO", "ppm", marks)
    for circle in parsed(picture.svg).iter(f"{SVG}circle"):
        assert 0 <= float(circle.attrib["cx"]) <= picture.width_pt
        assert 0 <= float(circle.attrib["cy"]) <= picture.height_pt
