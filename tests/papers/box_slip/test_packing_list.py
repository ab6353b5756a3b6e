"""The packing list: every name is one that jobs use, every drawing stays on its field."""

import re
from xml.etree import ElementTree as ET

import pytest

from flueproof.papers.box_slip.packing_list import HEIGHT, WIDTH, box_cautions, caution_words, packing_list
from flueproof.shop.records.jobs.box import ENCLOSED

DRAWN = [*packing_list(), *box_cautions()]


def test_the_list_has_the_names_that_the_counter_ticks():
    assert {one.name for one in packing_list()} == set(ENCLOSED)


def test_what_the_gas_flows_through_is_usual():
    usual = {one.name for one in packing_list() if one.usual}
    assert {"probe", "hose", "trap", "filters", "air sensor"} <= usual


@pytest.mark.parametrize("one", DRAWN, ids=lambda one: one.words[:20])
def test_a_drawing_is_whole_and_stays_on_its_field(one):
    svg = ET.fromstring(one.drawing())  # noqa: S314 -- our own drawing
    paths = [path.attrib["d"] for path in svg.iter() if path.tag.endswith("path")]
    assert paths
    for path in paths:
        for pair in re.findall(r"[ML](\d+) (\d+)", path):
            assert 0 <= int(pair[0]) <= WIDTH
            assert 0 <= int(pair[1]) <= HEIGHT


def test_every_caution_is_found_by_its_name_and_batteries_defer_to_the_carrier():
    assert {one.name for one in box_cautions()} == {"water", "cylinders", "batteries", "switch"}
    words = caution_words("batteries")
    assert "stay in" in words
    assert "carrier's rules" in words
    with pytest.raises(KeyError):
        caution_words("no such caution")
