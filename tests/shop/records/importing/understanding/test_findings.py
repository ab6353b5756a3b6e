"""What each row would do, beside what is on file and what the rows above say."""

import io

import pytest
from openpyxl import Workbook

from flueproof.shop.records.importing.runs import hindrances
from flueproof.shop.records.models import Analyzer, Obligation, Owner, OwnerAddress, OwnerContact

HEAD = "Customer,Cust. no.,Contact,Phone,E-mail,Street,City,Make,Model,Serial,Firmware,Last cal.,Cal due,Interval\n"


@pytest.fixture
def found(looked_at):
    """Return a function rows -> the kinds of the rows, one word each, and the reasons."""

    def look(*rows, head=HEAD):
        run = looked_at(head + "\n".join(rows) + "\n")
        kinds = {kind: count for kind, count in run.found["kinds"].items() if count}
        why = [one["why"] for listed in run.found["listed"].values() for one in listed if one["why"]]
        return kinds, why, run.found["makes"]

    return look


def test_owner_person_address_analyzer_and_due_date_of_one_row(found):
    kinds, _, makes = found("Birch,C1,Ann,555,a@b.example,1 Elm,Port,Orrin,Orrin 5,001,2.1,2026-01-05,2027-01-05,12")
    assert kinds == {"new": 1}
    assert makes == {"owner": 1, "contact": 1, "address": 1, "analyzer": 1, "due": 1}


def test_an_owner_in_many_rows_is_made_once(found):
    kinds, why, makes = found(*(f"Birch,,Ann,555,,1 Elm,Port,Orrin,Orrin 5,00{n},,,," for n in range(5)))
    assert (kinds, why) == ({"new": 5}, [])
    assert makes == {"owner": 1, "contact": 1, "address": 1, "analyzer": 5}


def test_a_row_without_analyzer_is_about_the_owner(found, owner):
    kinds, _, makes = found(
        "Birch,,Ann,,,,,,,,,,,", "birch,,ANN,,,,,,,,,,,", f"{owner.name},,Ada Quay (invented),,,,,,,,,,,"
    )
    assert kinds == {"new": 1, "repeated": 1, "there": 1}
    assert makes == {"owner": 1, "contact": 1}


def test_what_is_on_file_stays(found, analyzer):
    person = "Ada Quay (invented),555-0100,,5 Quay Street,Port Alder"
    assert found(f"Tidewater Heating (invented),,{person},Orrin,Orrin 5,O5-20417,,,,") == ({"there": 1}, [], {})


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (",,,,,,,Orrin,Orrin 7,O5-20417,,,,", "Model: Orrin 5 on file, here Orrin 7"),
        (",,,,,,,Orrin,Orrin 5,O5-20417,9.9,,,", "Firmware: nothing on file, here 9.9"),
        (",,Ada Quay (invented),555-9999,,,,,,,,,,", "Phone of Ada Quay (invented): 5550100 on file, here 5559999"),
        (",,,,,6 Other Street,Port Alder,,,,,,,", "Address: another one is on file"),
        (",C77,,,,,,,,,,,,", "Customer number: none on file, here C77"),
    ],
)
def test_what_differs_is_told_and_not_taken_over(found, analyzer, row, words):
    kinds, why, makes = found(f"Tidewater Heating (invented){row}")
    assert (kinds, makes) == ({"differs": 1}, {})
    assert why == [words]


def test_a_new_person_of_an_owner_on_file_is_added(found, owner):
    kinds, _, makes = found("Tidewater Heating (invented),,Bo Quay (invented),555-0101,,,,,,,,,,")
    assert (kinds, makes) == ({"adds": 1}, {"contact": 1})


def test_a_phone_that_is_on_file_without_a_name_is_nobody_new(found, owner):
    assert found("Tidewater Heating (invented),,,555 0100,,,,,,,,,,")[0] == {"there": 1}


def test_an_analyzer_of_another_owner_is_never_moved(found, analyzer):
    kinds, why, makes = found("Birch,,,,,,,Orrin,Orrin 5,O5-20417,,,,")
    assert (kinds, makes) == ({"differs": 1}, {})
    assert "of Tidewater Heating (invented) (on file) has the same plate, here the owner is Birch" in why[0]


@pytest.mark.parametrize("serial", ["05-20417", "O5 20417", "o5-20417", "OS-2O4I7", "O520417"])
def test_a_plate_that_reads_like_another_is_held_and_never_merged(found, analyzer, serial):
    kinds, why, makes = found(f"Tidewater Heating (invented),,,,,,,Orrin,Orrin 5,{serial},,,,")
    assert (kinds, makes) == ({"lookalike": 1}, {})
    assert why[0].startswith(f"{serial} reads like Orrin Orrin 5 O5-20417")


def test_the_same_serial_of_another_make_is_held(found, analyzer):
    assert found("Tidewater Heating (invented),,,,,,,Otter,Otter 1,O5-20417,,,,")[0] == {"lookalike": 1}


def test_plates_in_the_list_that_read_alike_are_held_and_the_first_is_new(found):
    kinds, why, _ = found(
        "Birch,,,,,,,Orrin,Orrin 5,0123,,,,", "Birch,,,,,,,Orrin,Orrin 5,O123,,,,", "Birch,,,,,,,Orrin,Orrin 5,O123,,,,"
    )
    assert kinds == {"new": 1, "lookalike": 1, "repeated": 1}
    assert why[0].startswith("O123 reads like Orrin Orrin 5 0123 of Birch (row 2)") or "Row 3" in why[0]


def test_a_serial_twice_in_the_list_counts_once(found):
    row = "Birch,,,,,,,Orrin,Orrin 5,0123,,,,"
    assert found(row, row)[0] == {"new": 1, "repeated": 1}
    kinds, why, _ = found(row, row.replace("Birch", "Elder"))
    assert kinds == {"new": 1, "error": 1}
    assert "(row 2) has the same plate, here the owner is Elder" in why[0]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (",,,,,,,Orrin,Orrin 5,1,,,,", "There is no owner"),
        (",C9,,,,,,Orrin,Orrin 5,1,,,,", "No owner has the customer number C9, and no name is given"),
        ("Birch,,,,,,,Orrin,,1,,,,", "Model is missing"),
        ("Birch,,,,,,,,Orrin 5,1,,,,", "Make is missing"),
        ("Birch,,,,,,,Orrin,Orrin 5,,,,,", "There is an analyzer without a serial number"),
        ("Birch,,,,,,,,,,,2026-01-01,,", "There is an analyzer without a serial number"),
    ],
)
def test_what_cannot_be_is_an_error(found, row, words):
    assert found(row) == ({"error": 1}, [words], {})


def test_customer_numbers_tell_owners_apart(found, owner):
    owner.number = "C1"
    owner.save()
    Owner.objects.create(name="Birch", number="C2")
    kinds, why, makes = found(
        "Tidewater Heating (invented),C1,,,,,,Orrin,Orrin 5,1,,,,",
        ",C2,,,,,,Orrin,Orrin 5,77,,,,",
        "Tidewater Heating (invented),C3,,,,,,Orrin,Orrin 5,333,,,,",
        "Tidewater Heating (invented),C2,,,,,,Orrin,Orrin 5,444,,,,",
    )
    assert kinds == {"new": 2, "error": 2}
    assert makes == {"analyzer": 2}
    assert "has the customer number C1, here it is C3" in why[0]
    assert why[1] == "Customer number C2 is Birch, not Tidewater Heating (invented)"


def test_two_owners_of_one_name_are_not_guessed_at(found, owner):
    Owner.objects.create(name=owner.name)
    kinds, why, _ = found("Tidewater Heating (invented),,,,,,,Orrin,Orrin 5,1,,,,")
    assert kinds == {"error": 1}
    assert "There are 2 owners called" in why[0]


def test_an_owner_that_was_merged_leads_to_the_one_that_stayed(found, owner):
    Owner.objects.create(name="Old Name (invented)", merged_into=owner)
    kinds, _, makes = found("Old Name (invented),,,,,,,Orrin,Orrin 5,1,,,,")
    assert kinds == {"new": 1}
    assert makes == {"analyzer": 1}


def test_a_dry_run_writes_nothing(found):
    found("Birch,C1,Ann,555,a@b.example,1 Elm,Port,Orrin,Orrin 5,001,2.1,2026-01-05,2027-01-05,12")
    for model in (Owner, OwnerContact, OwnerAddress, Analyzer, Obligation):
        assert (
            not model.objects.filter(pk__isnull=False)
            .exclude(**({"name__startswith": "Tidewater"} if model is Owner else {}))
            .exclude(**({} if model in (Owner, Analyzer, Obligation) else {"owner__name__startswith": "Tidewater"}))
            .exists()
        )


def test_dates_that_wait_are_shown_with_their_readings(looked_at):
    run = looked_at(HEAD + "Birch,,,,,,,Orrin,Orrin 5,1,,2/4/95,,\nBirch,,,,,,,Orrin,Orrin 5,77,,4/13/95,,\n")
    assert run.found["kinds"]["waiting"] == 1
    assert run.found["readings"] == [{"dmy": "1995-04-02", "mdy": "1995-02-04"}]
    assert run.found["orders"] == {"mdy": {"row": 3}}
    assert run.found["short_year"] == ["4/13/95", "1995-04-13"]


def test_serials_kept_as_numbers_are_counted_also_where_a_date_waits(looked_at):
    book, kept = Workbook(), io.BytesIO()
    for row in (["Customer", "Make", "Model", "Serial", "Last cal."], ["Birch", "Orrin", "Orrin 5", 123, "2/4/95"]):
        book.active.append(row)
    book.active.append(["Birch", "Orrin", "Orrin 5", 777, ""])
    book.active.append(["Birch", "Orrin", "Orrin 5", "0888", ""])
    book.save(kept)
    run = looked_at(kept.getvalue())
    assert run.found["as_number"] == 2
    assert run.found["usual_length"] == 4  # of those kept as text
    assert [one["row"] for one in run.found["listed"]["as_number"]] == [2, 3]
    assert "Serials were kept as numbers" in hindrances(run)[1]


def test_lists_of_interesting_rows_stay_short(looked_at):
    run = looked_at(HEAD + "".join(f"Birch,,,,,,,Orrin,,{n:04d},,,,\n" for n in range(450)))
    assert run.found["kinds"]["error"] == 450
    assert len(run.found["listed"]["error"]) == 200
