"""A serial that does not look like one of its model is asked about; nothing is refused and nothing told of others."""

import pytest

from flueproof.shop.records.intake.asking.serials import plate_shape, profile_of_model, serial_question
from flueproof.shop.records.models import Analyzer

MODEL = ("Orrin", "Orrin 5")


@pytest.fixture
def fleet(owner):
    rows = [
        Analyzer(owner=owner, make="Orrin", model="Orrin 5", serial=f"O5-2{n:04d}", profile="hydrogen-compensated-co")
        for n in range(8)
    ]
    for row in rows:
        row.save()
    return rows


@pytest.mark.parametrize("typed", ["O5-20417", "o5 20417", "P5-99999", ""])
def test_what_has_the_shape_of_its_model_is_not_asked_about(fleet, typed):
    assert serial_question(*MODEL, typed) == ""


@pytest.mark.parametrize("typed", ["O5-2041", "05-20417", "O5-2O417", "12/2024"])
def test_another_shape_is_asked_about(fleet, typed):
    said = serial_question("ORRIN", " orrin 5 ", typed)
    assert said.startswith(f"{typed} does not look like a serial of this model")
    assert "O5-20000" not in said


@pytest.mark.parametrize("typed", ["me@firm.example", "x1", "no idea", "--"])
def test_what_is_no_serial_at_all_is_asked_about_also_without_a_file(db, typed):
    assert "does not look like a serial" in serial_question("Unknown", "Thing", typed)


def test_few_on_file_say_nothing_about_a_shape(owner):
    Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-20417")
    assert serial_question(*MODEL, "77-B") == ""
    assert serial_question("", "", "77-B") == ""


def test_service_rules_follow_those_of_the_model(fleet):
    assert profile_of_model("orrin", "Orrin 5") == "hydrogen-compensated-co"
    assert profile_of_model("Nobody", "None") == ""
    assert plate_shape("O5-20417") == "A999999"
