import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.clues import Clues
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.weighing.places import Geography, area_share, weigh_address, weigh_postmark

OF = {"410": 1.0}
LAND = Geography(
    {"41002": 5, "410": 20, "millbridge": 8, "harford": 9, "520": 30},
    OF,
    {"520": 40.0, "410": 1.0},
    700,
)
VALE = OwnerOnFile("vale", ("Vale",), places=(Place("12 Canal Road", "41002", "Millbridge"),))


def address(**clues):
    town = clues.get("town", "")
    land = Geography(LAND.counts, OF if town == "Millbridge" else {}, {}, LAND.owners)
    return weigh_address(Clues(**clues), VALE, land, DEFAULT).weight


def test_the_more_of_an_address_fits_the_more_it_weighs():
    whole = address(street="12 Canal Road", postcode="41002", town="Millbridge")
    place = address(postcode="41002", town="Millbridge")
    town = address(town="Millbridge")
    slip = address(town="Milbridge")
    assert whole > place > town > slip > 1


def test_a_digit_slip_in_the_postcode_is_forgiven_where_the_town_fits():
    assert address(postcode="41007", town="Millbridge") > 2
    assert address(postcode="97555", town="Quilton") < -1.5


def test_the_same_area_is_better_than_anywhere_else():
    assert address(postcode="41099", town="") > address(postcode="52099", town="")


def test_without_an_address_there_is_no_reason():
    assert weigh_address(Clues(name="x"), VALE, LAND, DEFAULT) is None
    assert weigh_address(Clues(town="x"), OwnerOnFile("x", ("X",)), LAND, DEFAULT) is None


@pytest.mark.parametrize(("street", "fits"), [("12 Canal Raod", True), ("Canal Road", True), ("77 Depot Lane", False)])
def test_a_street_within_the_postcode(street, fits):
    alone = address(postcode="41002")
    assert (address(postcode="41002", street=street) > alone) is fits


def test_a_postmark_speaks_for_owners_whose_mail_carries_it():
    harford = OwnerOnFile("h", ("H",), places=(Place("", "52010", "Harford"),))
    clues = Clues(postmark="Sorting")
    land = Geography(LAND.counts, {}, LAND.postmark_areas, LAND.owners)
    assert weigh_postmark(clues, harford, land, DEFAULT).weight > 1
    assert weigh_postmark(clues, VALE, land, DEFAULT).weight < 0


def test_where_an_address_was_read_the_postmark_says_nothing_more():
    assert weigh_postmark(Clues(postmark="Sorting", postcode="41002"), VALE, LAND, DEFAULT) is None
    assert weigh_postmark(Clues(), VALE, LAND, DEFAULT) is None


def test_the_share_of_the_area_counts_only_where_the_box_is_not_known_to_be_from_there():
    assert area_share(Clues(), VALE, Geography({"410": 20}, {}, {}, 700)) == pytest.approx(19.5 / 700)
    assert area_share(Clues(postcode="41099"), VALE, LAND) is None
