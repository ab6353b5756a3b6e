import dataclasses
import re

import pytest

from flueproof.papers.labels.content import sticker_of
from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.papers.labels.zpl import field_text, sticker_zpl


@pytest.fixture(scope="module")
def sticker(record, judgement, issue):
    return sticker_of(record, judgement, issue)


def test_one_label_in_utf8_with_all_that_must_stand_on_it(sticker):
    label = sticker_zpl(sticker, shipped_sizes().label("50x30"))
    assert label.startswith("^XA\n^CI28\n^PW400\n^LL240\n")
    assert label.endswith("^PQ1\n^XZ\n")
    fields = re.findall(r"\^FD(.*)\^FS", label)
    for wanted in (
        "O5-20417",
        "Calibrated 03 Nov 2026",
        "Due 03 Nov 2027",
        "FP-2026-0042",
        "by R. Vale",
        "MA,FP-2026-0042/O5-20417",
    ):
        assert wanted in fields


def test_signs_that_start_commands_never_reach_a_field(sticker):
    evil = dataclasses.replace(sticker, serial="^XZ^XA~JA", shop="a\n^FS", technician="~", code="A^B~C")
    label = sticker_zpl(evil, shipped_sizes().label("50x30"))
    assert label.count("^XA") == 1
    assert label.count("^XZ") == 1
    assert "~" not in label
    assert field_text("a^b~c\n\x1b") == "a-b-c"


@pytest.mark.parametrize("name", sorted(shipped_sizes().single))
@pytest.mark.parametrize("warning", ["", "OUTSIDE LIMITS, see certificate"])
def test_every_field_lies_on_the_label(sticker, name, warning):
    size = shipped_sizes().label(name)
    long = dataclasses.replace(sticker, serial="W" * 32, shop="S" * 60, warning=warning)
    for one in (dataclasses.replace(sticker, warning=warning), long):
        label = sticker_zpl(one, size)
        for left, top, tall, text in re.findall(r"\^FO(\d+),(\d+)\^A0N,(\d+),\d+\^FD(.*)\^FS", label):
            assert int(top) + int(tall) <= size.height_mm * size.dots_per_mm
            assert int(left) + 0.56 * int(tall) * len(text) <= size.width_mm * size.dots_per_mm
