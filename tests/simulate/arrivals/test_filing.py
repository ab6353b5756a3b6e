import collections

import pytest

from flueproof.simulate.arrivals.filing import TODAY, World


@pytest.fixture(scope="module")
def file():
    return World(2500, 7).file


@pytest.mark.parametrize("size", [1, 160, 900])
def test_the_roster_has_the_size_asked_for(size):
    made = World(size, 1).file
    assert [plate.key for plate in made.analyzers] == list(range(size))
    assert sorted(key for owner in made.owners for key in owner.analyzers) == list(range(size))


def test_plates_are_unique_within_a_make_and_have_neighbors(file):
    plates = [(plate.make, plate.serial) for plate in file.analyzers]
    assert len(set(plates)) == len(plates)
    shorn = collections.Counter((make, serial[:-1]) for make, serial in plates)
    assert sum(count for count in shorn.values() if count > 1) / len(plates) > 0.3


def test_firms_of_one_surname_and_towns_with_several_owners_are_usual(file):
    first_words = collections.Counter(owner.name.split()[0] for owner in file.owners)
    towns = collections.Counter(owner.places[0].town for owner in file.owners)
    assert sum(count for count in first_words.values() if count > 1) / len(file.owners) > 0.4
    assert sum(count for count in towns.values() if count > 1) / len(file.owners) > 0.7


def test_nothing_can_be_dialed_or_mailed(file):
    assert all(phone[0] in "01" for owner in file.owners for phone in owner.phones)
    assert all(mail.endswith(".example") for owner in file.owners for mail in owner.emails)


def test_a_new_state_changes_who_called_and_keeps_who_is_on_file():
    world = World(400, 2)
    names, calls = [owner.name for owner in world.file.owners], list(world.file.calls)
    world.draw_state()
    assert [owner.name for owner in world.file.owners] == names
    assert world.file.calls != calls
    assert all(call.on <= TODAY for call in world.file.calls)
