import numpy as np
import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.serials.likeness import likeness
from flueproof.intake.serials.series import learn_series

SERIALS = [f"21{number:05d}" for number in range(5800, 5990, 7)] + [f"Q{n}-26" for n in range(10400, 10440, 2)]


@pytest.fixture(scope="module")
def of():
    series = learn_series(("Hollin", serial, number) for number, serial in enumerate(SERIALS))
    return lambda read: likeness(read, [("Hollin", one) for one in SERIALS], series, {"Hollin": 1.0}, DEFAULT)


def ratio(found, serial):
    return found.each[SERIALS.index(serial)] / found.background


def test_a_serial_read_as_on_file_is_hardly_ever_of_a_plate_never_seen(of):
    found = of("2105807")
    assert SERIALS[int(np.argmax(found.each))] == "2105807"
    assert ratio(found, "2105807") > 5e3


def test_one_character_beside_is_rather_of_a_neighbor_never_seen(of):
    assert ratio(of("2105806"), "2105807") < 0.1 * ratio(of("2105807"), "2105807")


def test_an_unreadable_character_leaves_both_open(of):
    assert 1 < ratio(of("210580?"), "2105807") < ratio(of("2105807"), "2105807")


def test_the_running_number_may_stand_before_the_year(of):
    """Q10404-26 and Q10405-26 are neighbors; Q10404-27 is not."""
    assert of("Q10405-26").background > 3 * of("Q10404-28").background


def test_a_make_of_which_nothing_is_on_file_is_no_error():
    found = likeness("123", [("Hollin", "123")], learn_series([]), {}, DEFAULT)
    assert found.each[0] > 0
    assert found.background > 0
