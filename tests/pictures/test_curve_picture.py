"""Curves over a quantity, with where one stands."""

import math

import pytest
from defusedxml.ElementTree import fromstring

from flueproof.pictures import grammar
from flueproof.pictures.curve_picture import Across, Curve, Spot, curve_picture
from flueproof.pictures.errors import EmptyPictureError

PLACES = (0.0, 5.0, 10.0, 15.0)
CO2 = Curve("CO2", (11.9, 9.1, 6.2, 3.4))
AIR = Curve("simple", (0.0, 31.4, 91.7, 254.2))


def drawn(*curves, spot=None, doubtful=None, **more):
    return curve_picture("Figure", "%", Across("O2", "%", PLACES, doubtful), curves or (CO2,), spot=spot, **more)


def test_it_is_one_drawing_with_a_name_a_description_and_a_table():
    picture = drawn(spot=Spot(5.0, 0.3, [(9.1, 0.2)]))
    root = fromstring(picture.svg)
    assert root.get("role") == "img"
    assert root.find("{http://www.w3.org/2000/svg}title").text == "Figure, %"
    assert picture.header == ("O2, %", "CO2")
    assert picture.rows[1] == ("5", "9.1")
    assert "The dot stands at 5 %" in picture.caption


def test_curves_are_told_apart_by_their_stroke_and_by_their_name():
    picture = drawn(CO2, AIR)
    assert 'stroke-dasharray="5 2.4"' in picture.svg
    assert ">CO2</text>" in picture.svg
    assert ">simple</text>" in picture.svg
    assert picture.caption.startswith("CO2 solid, simple dashed.")


def test_where_one_stands_has_a_band_across_and_a_bar_upward():
    picture = drawn(CO2, AIR, spot=Spot(5.0, 0.3, [(9.1, 0.2), (31.4, 2.0)]))
    assert picture.svg.count("<circle") == 2
    assert f'fill="{grammar.BAND}"' in picture.svg


def test_a_spot_without_uncertainty_has_no_band():
    assert f'fill="{grammar.BAND}"' not in drawn(spot=Spot(5.0, 0.0, [(9.1, 0.0)])).svg


def test_a_spot_outside_or_without_a_value_is_not_drawn():
    assert "<circle" not in drawn(spot=Spot(20.0, 0.3, [(9.1, 0.2)])).svg
    assert "<circle" not in drawn(spot=Spot(5.0, 0.3, [None])).svg


def test_a_curve_is_broken_where_it_has_no_value():
    picture = drawn(Curve("CO2", (11.9, math.nan, 6.2, 3.4)))
    assert picture.rows[1] == ("5", "–")
    line = next(part for part in picture.svg.split("<path ") if part.startswith('d="M') and "stroke-width" in part)
    assert line.count("M") == 2


def test_from_where_it_is_doubtful_is_drawn_and_said():
    picture = drawn(doubtful=12.0)
    assert ">doubtful</text>" in picture.svg
    assert "Doubtful above 12 %." in picture.caption
    assert "doubtful" not in drawn(doubtful=15.0).svg


def test_the_table_holds_each_so_many_th_place():
    assert [row[0] for row in drawn(every=2).rows] == ["0", "10"]


def test_names_of_curves_that_end_at_one_place_stand_apart():
    picture = drawn(CO2, Curve("other", CO2.values))
    ends = [part for part in picture.svg.split("<text ") if ">CO2<" in part or ">other<" in part]
    heights = [float(part.split('y="')[1].split('"')[0]) for part in ends]
    assert abs(heights[0] - heights[1]) >= 9.0


def test_a_flat_curve_is_drawn_too():
    assert "<path" in drawn(Curve("flat", (3.0, 3.0, 3.0, 3.0))).svg


def test_text_cannot_become_markup():
    picture = curve_picture("<b>", "&", Across("<i>", "%", PLACES), (Curve("<u>", CO2.values),))
    assert "<b>" not in picture.svg
    assert fromstring(picture.svg) is not None


def test_nothing_is_no_picture():
    with pytest.raises(EmptyPictureError, match="got none"):
        drawn(Curve("none", (math.nan,) * 4))


def test_a_fourth_curve_and_unequal_lengths_are_refused():
    with pytest.raises(ValueError, match="at most 3"):
        drawn(CO2, CO2, CO2, CO2)
    with pytest.raises(ValueError, match="3 values for 4 places"):
        drawn(Curve("short", (1.0, 2.0, 3.0)))
