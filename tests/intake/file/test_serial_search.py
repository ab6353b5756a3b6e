import numpy as np
import pytest

from flueproof.intake.file.serial_search import SerialSearch

SERIALS = ["VL-205813", "VL-205818", "2105813", "Q27586-20", "0333B16"]


@pytest.mark.parametrize(
    ("read", "best"),
    [("VL205813", 0), ("V?-20*13", 0), ("205818", 1), ("Q2758620", 3), ("Q7586-20", 3), ("O333816", 4), ("33B16", 4)],
)
def test_the_serial_that_was_misread_scores_highest(read, best):
    assert int(np.argmax(SerialSearch(SERIALS).scores(read))) == best


def test_nothing_readable_scores_nothing():
    assert not SerialSearch(SERIALS).scores("??*").any()
    assert SerialSearch([]).scores("12").shape == (0,)
