from xml.etree import ElementTree as ET

from flueproof.pictures.grammar import WORDS
from flueproof.pictures.key import key_picture

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ET.fromstring(drawing)  # noqa: S314  (a drawing of our own)


def test_the_key_shows_each_statement_with_its_own_shape_and_word():
    picture = key_picture()
    tree = parsed(picture.svg)
    said = {found.text for found in tree.iter(f"{SVG}text")}
    assert set(WORDS.values()) <= said
    assert {row[0] for row in picture.rows} == set(WORDS.values())
    fills = [circle.attrib["fill"] for circle in tree.iter(f"{SVG}circle")]
    assert fills.count("#ffffff") == 1
    assert len(fills) == 2
    assert len(list(tree.iter(f"{SVG}polygon"))) == 1
