import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.file.keys import names_words
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.weighing.names import NameWeigher


@pytest.fixture
def weigh(roster, owners, today):
    def weighed(name, owner, town=""):
        words = names_words(name)
        known = {w for o in owners for n in (*o.names, *o.people) for w in names_words(n)}
        weigher = NameWeigher(
            name, roster.word_counts(known), roster.near_words(words), owners, roster.totals(today), DEFAULT
        )
        return weigher.weigh(owner, town)

    return weighed


def test_no_name_no_reason(weigh, owners):
    assert weigh("", owners[0]) is None


def test_the_closer_the_name_the_more_it_weighs(weigh, owners):
    names = ("Marsh Heating Inc.", "Marsh Heatng", "Marsh", "Quilford Climate")
    found = [weigh(name, owners[0]).weight for name in names]
    assert found == sorted(found, reverse=True)
    assert found[0] > 3
    assert found[-1] < -1


def test_a_space_in_the_wrong_place_is_forgiven(weigh, owners):
    assert weigh("Mars hHeating", owners[0]).weight > 1


def test_a_person_on_file_speaks_for_the_firm_and_is_named(weigh, owners):
    reason = weigh("A. Marsh", owners[0])
    assert reason.weight > 0.5
    assert weigh("Ada Marsh", owners[0]).words == "the sender is like Ada Marsh, a person of theirs"


def test_a_person_nobody_knows_says_less_against_than_a_firm_nobody_knows(weigh, owners):
    assert weigh("Lev Wren", owners[0]).weight > weigh("Quilford Climate Energy", owners[0]).weight


def test_a_former_name_is_told_as_such(weigh):
    vale = OwnerOnFile("v", ("Vale Mechanical", "Reed Boiler Service"))
    assert weigh("Reed Boiler Service", vale).words == "their former name, Reed Boiler Service"


def test_a_firm_named_for_its_town_is_not_counted_twice(weigh):
    town_firm = OwnerOnFile("t", ("Town40 Energy",), places=(Place("", "40710", "Town40"),))
    assert weigh("Town40 Energy", town_firm, "town40").weight < weigh("Town40 Energy", town_firm).weight


def test_a_word_of_the_name_is_called_so_also_where_it_weighs_little(weigh, owners):
    assert weigh("Heating Quilford Climate Works", owners[0]).words == (
        "no more than a word of their name, Marsh Heating Inc."
    )
    assert weigh("Quilford Climate", owners[0]).words == "the sender's name is none of theirs on file"
