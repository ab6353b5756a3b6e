import math
from xml.etree import ElementTree as ET

import pytest

from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.trace_picture import Settled, Target, trace_picture

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ET.fromstring(drawing)  # noqa: S314  (a drawing of our own)


TIMES = [0, 30, 60, 90, 120]
SHOWN = [0, 402, 468, math.nan, 486]


def test_each_reading_that_is_a_number_is_one_dot():
    picture = trace_picture("CO", "ppm", TIMES, SHOWN)
    dots = list(parsed(picture.svg).iter(f"{SVG}circle"))
    assert len(dots) == 4
    assert picture.rows == (("0", "0"), ("30", "402"), ("60", "468"), ("120", "486"))


def test_later_readings_lie_further_right_and_larger_ones_higher():
    dots = list(parsed(trace_picture("CO", "ppm", TIMES, SHOWN).svg).iter(f"{SVG}circle"))
    across = [float(dot.attrib["cx"]) for dot in dots]
    upward = [float(dot.attrib["cy"]) for dot in dots]
    assert across == sorted(across)
    assert upward == sorted(upward, reverse=True)


def test_the_settled_value_and_the_reference_come_with_their_bands():
    plain = trace_picture("CO", "ppm", TIMES, SHOWN)
    full = trace_picture(
        "CO", "ppm", TIMES, SHOWN, settled=Settled(489.6, 5.1), target=Target(502.0, 477.0, 527.0), hold_s=120
    )
    count = lambda picture: len(list(parsed(picture.svg).iter(f"{SVG}rect")))  # noqa: E731
    assert count(plain) == 0
    assert count(full) == 2
    assert "489.6 ppm" in full.caption
    assert "502 ppm" in full.caption


def test_a_flat_trace_still_has_an_axis():
    picture = trace_picture("O2", "%", [0, 10], [20.9, 20.9])
    parsed(picture.svg)
    assert len(picture.rows) == 2


def test_a_trace_without_numbers_is_refused():
    with pytest.raises(EmptyPictureError, match="CO"):
        trace_picture("CO", "ppm", [0, 1], [math.nan, math.inf])


def test_times_and_values_must_be_as_many():
    with pytest.raises(ValueError, match=r"shorter|longer"):
        trace_picture("CO", "ppm", [0, 1], [1.0])
