import datetime as dt

import pytest

from flueproof.intake.clues import Clues
from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.file.roster import WordCount


def keys(roster, today, **clues):
    return [owner.key for owner in roster.candidates_for(Clues(**clues), today)]


@pytest.mark.parametrize(
    "clues",
    [
        {"serial": "2204456"},
        {"serial": "22*56"},
        {"name": "Oil Service"},
        {"name": "Mrash"},
        {"name": "MSOS"},
        {"postcode": "52010"},
        {"town": "Harfrod"},
    ],
)
def test_any_clue_brings_its_owner(roster, today, clues):
    assert "marsh2" in keys(roster, today, **clues)


def test_phone_and_mail_bring_their_owner(roster, today):
    assert keys(roster, today, phone="4417")[0:60].count("vale") == 1
    assert "reed" in keys(roster, today, email="ada@reed-boiler.example")
    assert "reed" in keys(roster, today, email="lev@reed-boiler.example")


def test_each_owner_is_a_candidate_once(roster, today):
    found = keys(roster, today, serial="21058", name="Marsh Heating", town="Millbridge")
    assert len(found) == len(set(found)) <= 110


def test_totals_count_the_file(roster, owners, today):
    totals = roster.totals(today)
    assert totals.owners == len(owners)
    assert totals.analyzers == sum(totals.models.values()) == sum(len(owner.analyzers) for owner in owners)
    assert (totals.requests, totals.callers) == (2, 1)


def test_a_call_is_forgotten_after_two_weeks(roster, today):
    assert roster.totals(today + dt.timedelta(days=14)).callers == 1
    assert roster.totals(today + dt.timedelta(days=15)).callers == 0


def test_words_are_counted_for_firms_and_people(roster):
    assert roster.word_counts(["marsh", "nobody"]) == {"marsh": WordCount(2, 1)}
    assert roster.near_words(["mrash"])["marsh"] == WordCount(2, 1)


def test_places_and_mail_are_counted(roster):
    assert roster.place_counts(["41002"], ["520"], ["harford"]) == {"41002": 2, "520": 2, "harford": 2}
    assert roster.mail_counts("reed-boiler.example") == 1
    assert roster.mail_counts("nobody@reed-boiler.example") == 0


def test_a_postmark_points_where_its_boxes_came_from_and_to_the_town_of_that_name():
    owner = OwnerOnFile(1, ("Vale",), places=(Place("", "41002", "Harford"),))
    roster = MemoryRoster([owner], [("Harford", "52010"), ("Harford", "52011"), ("Quay", "60000")])
    assert roster.areas_of("harford") == {"520": 2, "410": 2.0}
    assert roster.areas_of("nowhere") == {}
