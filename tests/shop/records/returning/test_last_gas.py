"""The last gas through the owner's own path, as the record tells it."""

import pytest

from flueproof.shop.records.returning.last_gas import last_gas_check
from flueproof.shop.records.visits.judged import judged
from shop.loaded import load_visit


@pytest.fixture
def seen(people, now, shop):
    """Return a function demo name -> what its record says."""
    return lambda name, **how: last_gas_check(judged(load_visit(name, people["technician"], now, **how)))


@pytest.mark.parametrize("name", ["healthy", "adjusted", "co-cell-replaced", "probe-mended"])
def test_gas_at_the_owners_tip_after_all_work_is_enough(seen, name):
    assert seen(name).good


def test_a_reading_outside_is_told(seen):
    found = seen("verified-outside")
    assert not found.good
    assert "does not conform" in found.words


def test_no_probe_came_no_gas_went_through_it(seen):
    found = seen("no-probe-came")
    assert (found.good, found.words) == (False, "")


def test_gas_before_the_work_is_not_gas_after_it(seen):
    """The repair's record up to the new cell: its gas as found does not speak for the mended unit."""
    from shop.loaded import demo

    steps = demo("co-cell-replaced").record["steps"]
    fitted = next(place for place, step in enumerate(steps) if step["kind"] == "part") + 1
    found = seen("co-cell-replaced", steps=fitted)
    assert not found.good
    assert found.words == "Gas went through the owner's probe before the last work, not after it."


def test_an_empty_record_says_nothing(seen):
    assert not seen("healthy", steps=0).good
