import math
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.pictures.svg import document, element, escaped, fitted, number, text

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ET.fromstring(drawing)  # noqa: S314  (a drawing of our own)


@given(st.text())
def test_any_text_comes_back_from_the_drawing_as_the_same_text(content):
    drawn = document(text(content, 1.0, 2.0), 10.0, 10.0, title=content, description=content)
    tree = parsed(drawn)
    kept = "".join(sign for sign in content if escaped(sign)).replace("\r\n", "\n").replace("\r", "\n")
    for tag in ("title", "desc", "text"):
        assert (tree.find(f"{SVG}{tag}").text or "") == kept


def test_markup_in_a_label_stays_text():
    drawn = document(text('<script>alert("x")</script>', 0, 0), 10, 10, title="t", description="d")
    tree = parsed(drawn)
    assert tree.find(f"{SVG}script") is None
    assert "<script>" not in drawn


def test_a_quote_in_an_attribute_cannot_end_it():
    drawn = element("rect", id='a" onload="x')
    assert parsed(drawn).attrib == {"id": 'a" onload="x'}


def test_the_drawing_names_itself_to_a_screen_reader():
    tree = parsed(document("", 10, 20, title="Errors", description="one point"))
    assert tree.attrib["role"] == "img"
    assert tree.attrib["viewBox"] == "0 0 10 20"
    assert tree.find(f"{SVG}title").text == "Errors"
    assert tree.find(f"{SVG}desc").text == "one point"


@pytest.mark.parametrize(
    ("value", "shown"), [(-0.001, "0"), (0.0, "0"), (1.50, "1.5"), (-2.345, "-2.35"), (100.0, "100")]
)
def test_coordinates_are_short_and_never_minus_zero(value, shown):
    assert number(value) == shown


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_coordinate_that_is_no_number_is_refused(value):
    with pytest.raises(ValueError, match="finite"):
        number(value)


def test_a_long_label_is_cut_with_an_ellipsis():
    assert fitted("short", 100.0, 8.0) == "short"
    cut = fitted("x" * 200, 100.0, 8.0)
    assert cut.endswith("…")
    assert len(cut) == int(100.0 / (0.46 * 8.0))
