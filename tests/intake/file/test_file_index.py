"""Whom the clues point to: by name, place, phone, mail and plate; the expected ones where nothing is typed."""

import pytest

from flueproof.intake.clues import Clues
from flueproof.intake.file.file_index import FileIndex
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.file.roster import Plate


def firm(key, name, town="Alder", **said):
    return OwnerOnFile(key, (name,), places=(Place("1 Quay", f"9{key:02d}11", town),), **said)


@pytest.fixture
def index():
    others = [firm(key, f"Firm number {key}", f"Town{key}") for key in range(10, 40)]
    owners = [
        firm(1, "Tidewater Heating", "Port Alder", phones=("010-555-0100",), emails=("ada@tidewater.example",)),
        firm(2, "Moss & Reed Burners", "Mossley"),
        *others,
    ]
    return FileIndex(
        owners, [Plate(100 + owner.key, owner.key, "Orrin", "5", f"O5-{7919 * owner.key:06d}") for owner in owners]
    )


def first(index, **clues):
    return index.chosen(Clues(**clues), {}, 0, ())[0][:3]


@pytest.mark.parametrize(
    "clues",
    [
        {"name": "Tidewater"},
        {"name": "Tidewatr Heating"},
        {"name": "TH"},
        {"phone": "555 0100"},
        {"email": "ADA@tidewater.example"},
        {"email": "office@tidewater.example"},
        {"town": "Port Aldre"},
        {"postcode": "90111"},
        {"serial": "05-007?19"},
    ],
)
def test_a_clue_points_to_its_owner(index, clues):
    assert 1 in first(index, **clues)


def test_who_is_expected_comes_first_where_nothing_is_typed(index):
    assert index.chosen(Clues(), {2: 1}, 1, ())[0][0] == 2
    assert index.chosen(Clues(), {}, 0, {2})[0][0] == 2


def test_what_the_ranking_counts(index):
    assert index.word_counts({"tidewater"})["tidewater"].firms == 1
    assert "tidewater" in index.near_words({"tidewatr"})
    assert index.place_counts(["90111"], ["901"], ["port alder"]) == {"90111": 1, "901": 1, "port alder": 1}
    assert index.areas_of("Port Alder", {"902": 3}) == {"901": 2.0, "902": 3.0}


def test_an_empty_file_points_to_nobody():
    assert FileIndex([], []).chosen(Clues(name="Anybody", serial="1"), {}, 0, ()) == ([], [])
