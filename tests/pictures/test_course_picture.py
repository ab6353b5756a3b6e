"""The course of a value from day to day as a picture."""

import re

import pytest
from defusedxml.ElementTree import fromstring

from flueproof.pictures import grammar
from flueproof.pictures.course_picture import Band, CourseMark, course_picture
from flueproof.pictures.errors import EmptyPictureError


def mark(label, value, standing="good", expanded=0.01):
    return CourseMark(label, value, expanded, standing, f"{value:.3f}", f"{expanded:.3f}", "CYL-0007")


MARKS = [mark("23 Nov", 1.004), mark("24 Nov", 1.006, "other"), mark("25 Nov", 1.052, "jump")]
BAND = Band(1.005, 0.99, 1.02)


def test_it_is_one_drawing_with_a_name_a_description_and_a_table():
    drawn = course_picture("CO span factor", "", MARKS, band=BAND, rule="Jump: more than 3 u.")
    root = fromstring(drawn.svg)
    assert root.get("role") == "img"
    assert root.find("{http://www.w3.org/2000/svg}title").text == "CO span factor"
    assert drawn.rows[2] == ("25 Nov", "1.052", "0.010", "jump", "CYL-0007")
    assert drawn.caption.endswith("Jump: more than 3 u.")


def test_each_standing_has_its_shape_and_word():
    drawn = course_picture("x", "", MARKS, band=BAND)
    assert drawn.svg.count("<polygon") == 1
    assert drawn.svg.count(f'fill="{grammar.PAPER}"') == 1
    assert "out of line on 25 Nov" in drawn.caption
    assert "hollow dots" in drawn.caption


def test_points_stand_in_the_order_of_time_and_higher_values_higher():
    drawn = course_picture("x", "", [mark("a", 1.0), mark("b", 1.1), mark("c", 0.9)])
    spots = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', drawn.svg)
    across, down = zip(*[(float(x), float(y)) for x, y in spots], strict=True)
    assert list(across) == sorted(across)
    assert down[1] < down[0] < down[2]


def test_a_single_point_is_drawn_too():
    assert "1 point; none out of line" in course_picture("x", "%", [mark("a", 1.0, expanded=0.0)]).caption


def test_text_cannot_become_markup():
    drawn = course_picture("<b>", "&", [mark("<i>", 1.0)])
    assert "<b>" not in drawn.svg
    assert fromstring(drawn.svg) is not None


def test_nothing_is_no_picture():
    with pytest.raises(EmptyPictureError, match="got none"):
        course_picture("x", "", [])


@pytest.mark.parametrize("wrong", [mark("a", float("nan")), mark("a", 1.0, "maybe")])
def test_a_point_that_cannot_be_is_refused(wrong):
    with pytest.raises(ValueError, match="finite numbers"):
        course_picture("x", "", [wrong])
