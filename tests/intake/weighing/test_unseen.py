from dataclasses import replace

import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.clues import Clues
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.weighing.places import Geography
from flueproof.intake.weighing.unseen import Unseen, address_of_unseen, phone_of_unseen, postmark_of_unseen

LAND = Geography({"41002": 40, "410": 100, "millbridge": 100}, {"410": 1.0}, {"410": 8.0, "520": 2.0}, 1000)
SEEN = [OwnerOnFile(n, ("X",), places=(Place("", "41002", "Millbridge"),)) for n in range(20)]


@pytest.fixture
def unseen():
    return Unseen([*SEEN, OwnerOnFile("r", ("Y",), places=(Place("", "41002", "Millbridge"),), on_file=False)], LAND)


def test_the_share_of_a_place_that_was_not_looked_at(unseen):
    assert (unseen.share("41002"), unseen.share("410"), unseen.share("nowhere")) == (0.5, 0.8, 0.0)


def test_an_address_speaks_less_for_the_others_the_more_of_its_place_were_looked_at(unseen):
    clues, nobody = Clues(postcode="41002", town="Millbridge"), Unseen((), LAND)
    assert address_of_unseen(clues, unseen, LAND, DEFAULT) < address_of_unseen(clues, nobody, LAND, DEFAULT) < 1.01
    with_street = Clues(street="9 Mill Lane", postcode="41002", town="Millbridge")
    assert address_of_unseen(with_street, nobody, LAND, DEFAULT) < 0.3
    assert address_of_unseen(Clues(name="X"), unseen, LAND, DEFAULT) == 1.0


def test_a_postmark_counts_where_no_address_was_read(unseen):
    no_town = replace(LAND, town_areas={})
    assert postmark_of_unseen(Clues(postmark="Millbridge"), unseen, no_town, DEFAULT) < 1
    assert postmark_of_unseen(Clues(postmark="Millbridge", postcode="41002"), unseen, LAND, DEFAULT) == 1.0


def test_a_number_is_on_file_for_none_of_the_others():
    assert phone_of_unseen(Clues(phone="015-200-4417"), DEFAULT) == pytest.approx(1 - DEFAULT.phone_on_file)
    assert phone_of_unseen(Clues(phone="17"), DEFAULT) == 1.0
