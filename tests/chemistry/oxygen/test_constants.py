"""Three oxygen constants, each with its name and source."""

from flueproof.chemistry.oxygen.constants import CONSTANTS, GERMAN, PHYSICAL, US_METHODS


def test_each_definition_keeps_its_own():
    assert (PHYSICAL.pct, US_METHODS.pct, GERMAN.pct) == (20.946, 20.9, 21.0)


def test_each_says_its_name_and_source():
    assert len({one.name for one in CONSTANTS}) == 3
    assert all(one.source for one in CONSTANTS)
