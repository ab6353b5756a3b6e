"""Importing a list on its pages: file, columns, dry run, choices, doing, undoing, problems."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from flueproof.shop.records.models import Analyzer, ImportRun, Job, Owner, SearchKey

LIST = (
    "Customer;Phone;Make;Model;Serial;Last cal.\n"
    "Birch Heating (invented);555-0111;Orrin;Orrin 5;00123;2026-01-05\n"
    "Birch Heating (invented);555-0111;Orrin;Orrin 5;00124;31/2/2026\n"
    "Elder Heating (invented);555-0112;Orrin;Orrin 5;0O123;\n"
)
THERE = reverse("counter:import")


def at(name, run):
    return reverse(f"counter:import-{name}", args=[run.pk])


def chosen(client, text, name="units.csv"):
    """Choose a file; return the import and the answer."""
    answer = client.post(THERE, {"file": SimpleUploadedFile(name, text.encode())})
    return ImportRun.objects.first(), answer


def columns_of(client, run):
    """What the page of the columns sends when nothing is changed on it."""
    return client.get(at("columns", run)).context["form"]


def as_sent(form):
    return {name: form[name].value() or "" for name in form.fields}


@pytest.fixture
def looked_at(counter_client, shop):
    """Return a function text -> the import after its dry run."""

    def look(text):
        run, _ = chosen(counter_client, text)
        counter_client.post(at("columns", run), as_sent(columns_of(counter_client, run)))
        run.refresh_from_db()
        return run

    return look


def test_a_file_leads_to_its_columns(counter_client, shop):
    run, answer = chosen(counter_client, LIST)
    assert answer["Location"] == at("columns", run)
    page = counter_client.get(at("columns", run)).content.decode()
    assert "Column D: Model" in page
    assert "divided by semicolons" in page
    assert "00123" in page


def test_a_file_that_cannot_be_read_is_refused_where_it_was_chosen(counter_client, shop):
    answer = counter_client.post(THERE, {"file": SimpleUploadedFile("units.pdf", b"%PDF-1.7 ...")})
    assert answer.status_code == 422
    assert "This is a PDF" in answer.content.decode()
    assert counter_client.post(THERE, {}).status_code == 422
    assert not ImportRun.objects.exists()


def test_columns_lead_to_the_dry_run_with_its_picture_in_words(counter_client, looked_at):
    run = looked_at(LIST)
    page = counter_client.get(at("run", run)).content.decode()
    assert "1 of 3 rows would be new" in page
    assert 'class="share lookalike"' in page
    assert "31/2/2026 is no day of any month" in page
    assert not Analyzer.objects.exists()


def test_wrong_columns_keep_what_was_chosen(counter_client, shop):
    run, _ = chosen(counter_client, LIST)
    sent = as_sent(columns_of(counter_client, run)) | {"column-1": "owner_name", "make": "Orrin"}
    answer = counter_client.post(at("columns", run), sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Column A is the name of the firm already." in page
    assert 'value="Orrin"' in page
    without = counter_client.post(at("columns", run), sent | {"column-4": "", "column-1": ""}).content.decode()
    assert "one column must be its serial number" in without
    nobody = counter_client.post(at("columns", run), sent | {"column-0": "", "column-1": ""}).content.decode()
    assert "Say which column is the name of the firm" in nobody


def test_columns_are_remembered_for_the_same_header(counter_client, shop):
    run, _ = chosen(counter_client, LIST)
    sent = as_sent(columns_of(counter_client, run)) | {"column-1": "", "model": "Orrin 5"}
    counter_client.post(at("columns", run), sent)
    again, _ = chosen(counter_client, LIST + "Ash (invented);1;Orrin;Orrin 5;9;\n")
    page = counter_client.get(at("columns", again))
    assert "As it was said last time" in page.content.decode()
    assert page.context["form"]["column-1"].value() == ""
    assert page.context["form"]["model"].value() == "Orrin 5"


def test_it_is_done_once(counter_client, looked_at):
    run = looked_at(LIST)
    for _ in range(2):
        assert counter_client.post(at("do", run))["Location"] == at("run", run)
    assert Analyzer.objects.get().serial == "00123"
    assert Analyzer.objects.get().history.count() == 1
    page = counter_client.get(at("run", run)).content.decode()
    assert "1 of 3 rows was new" in page
    assert "Take this import back" in page


def test_an_analyzer_said_to_be_another_is_imported(counter_client, looked_at):
    run = looked_at(LIST)
    assert 'name="others" value="4"' in counter_client.get(at("run", run)).content.decode()
    counter_client.post(at("choose", run), {"others": ["4"]})
    assert "2 of 3 rows would be new" in counter_client.get(at("run", run)).content.decode()
    counter_client.post(at("do", run))
    assert {one.serial for one in Analyzer.objects.all()} == {"00123", "0O123"}


def test_a_choice_that_was_not_offered_is_refused(counter_client, looked_at):
    run = looked_at(LIST)
    answer = counter_client.post(at("choose", run), {"others": ["2"], "date_order": "never"})
    assert answer.status_code == 422
    run.refresh_from_db()
    assert run.mapping["others"] == []


def test_an_ambiguous_date_is_not_imported_before_the_order_is_chosen(counter_client, looked_at):
    run = looked_at(LIST.replace("2026-01-05", "2/4/95"))
    page = counter_client.get(at("run", run)).content.decode()
    assert "4 Feb 1995" in page
    assert "2 Apr 1995" in page
    assert counter_client.post(at("do", run)).status_code == 422
    counter_client.post(at("choose", run), {"date_order": "dmy"})
    counter_client.post(at("do", run))
    assert Analyzer.objects.get().obligations.get().last_done.isoformat() == "1995-04-02"


def test_the_order_of_last_time_is_only_proposed(counter_client, looked_at):
    first = looked_at(LIST.replace("2026-01-05", "2/4/95"))
    counter_client.post(at("choose", first), {"date_order": "dmy"})
    again = looked_at(LIST.replace("2026-01-05", "3/5/95"))
    assert (again.date_order, again.found["kinds"]["waiting"]) == ("", 1)
    page = counter_client.get(at("run", again))
    assert page.context["choices"]["date_order"].value() == "dmy"
    assert "Last time, for a list with the same header, it was day, month, year." in page.content.decode()


def test_problems_come_as_a_text_file_that_no_spreadsheet_calculates(counter_client, looked_at):
    run = looked_at(LIST.replace("Elder Heating (invented)", "=cmd|' /C calc'!A0"))
    answer = counter_client.get(at("problems", run))
    text = answer.content.decode("utf-8-sig")
    assert answer["Content-Disposition"] == 'attachment; filename="units-problems.csv"'
    assert "31/2/2026 is no day of any month" in text
    assert "\n'=cmd|' /C calc'!A0," in text
    assert len(text.splitlines()) == 3


def test_what_changed_since_the_look_is_told_and_nothing_is_imported(counter_client, looked_at):
    first, second = looked_at(LIST), looked_at(LIST)
    counter_client.post(at("do", first))
    answer = counter_client.post(at("do", second))
    assert answer.status_code == 422
    assert "nothing was imported" in answer.content.decode()
    assert "0 of 3 rows would be new" in answer.content.decode()
    assert Analyzer.objects.count() == 1


def test_undoing_takes_back_what_was_made_and_says_so_once(counter_client, looked_at):
    run = looked_at(LIST)
    counter_client.post(at("do", run))
    for _ in range(2):
        assert counter_client.post(at("undo", run)).status_code == 302
    assert not Analyzer.objects.exists()
    assert not Owner.objects.filter(name__startswith="Birch").exists()
    assert "taken back" in counter_client.get(at("run", run)).content.decode()


def test_undoing_what_is_in_use_is_refused_until_the_rest_is_chosen(counter_client, looked_at, people, now):
    run = looked_at(LIST.replace("31/2/2026", ""))
    counter_client.post(at("do", run))
    used = Analyzer.objects.get(serial="00123")
    Job.objects.create(number="J-2026-1", owner=used.owner, analyzer=used, opened_at=now)
    answer = counter_client.post(at("undo", run))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Orrin 5 00123 stays: has a job" in page
    assert Analyzer.objects.count() == 2
    counter_client.post(at("undo", run), {"rest": "yes"})
    assert [one.serial for one in Analyzer.objects.all()] == ["00123"]
    assert "built on it: 1 owner, 1 person, 1 analyzer" in counter_client.get(at("run", run)).content.decode()
    assert Owner.objects.filter(name__startswith="Birch").exists()


def test_another_sheet_of_a_workbook_is_read(counter_client, shop):
    from openpyxl import Workbook

    book, kept = Workbook(), io.BytesIO()
    book.active.append(["Customer", "Phone"])
    book.create_sheet("Units").append(["Customer", "Serial"])
    book["Units"].append(["Birch (invented)", "007"])
    book.save(kept)
    counter_client.post(THERE, {"file": SimpleUploadedFile("units.xlsx", kept.getvalue())})
    run = ImportRun.objects.get()
    assert "<option>Units</option>" in counter_client.get(at("columns", run)).content.decode()
    counter_client.post(at("columns", run), {"sheet": "Units"})
    assert "007" in counter_client.get(at("columns", run)).content.decode()
    assert counter_client.post(at("columns", run), {"sheet": "Nothing"}).status_code == 422


def test_empty_lists_of_the_counter_lead_to_the_import(counter_client, technician_client, shop, db):
    page = counter_client.get(reverse("counter:analyzers")).content.decode()
    assert f'href="{THERE}">Import a list' in page
    assert "Import a list" not in technician_client.get(reverse("counter:analyzers")).content.decode()


@pytest.mark.parametrize("act", ["do", "undo", "choose"])
def test_acts_want_a_press(counter_client, looked_at, act):
    assert counter_client.get(at(act, looked_at(LIST))).status_code == 405


@pytest.mark.parametrize("name", ["run", "columns", "problems", "do", "undo", "choose"])
@pytest.mark.parametrize("role", ["technician", "owner", "stranger"])
def test_who_has_no_right_gets_nowhere(client_of, looked_at, name, role):
    run = looked_at(LIST)
    client = client_of(role)
    for ask in (client.get, client.post):
        answer = ask(at(name, run))
        assert answer.status_code == (302 if role == "stranger" else 403)
    run.refresh_from_db()
    assert run.done_at is None


def test_done_imports_are_listed(counter_client, looked_at):
    run = looked_at(LIST)
    counter_client.post(at("do", run))
    page = counter_client.get(THERE).content.decode()
    assert "1 of 3 rows was new" in page
    assert "imported" in page
    assert counter_client.get(at("columns", run))["Location"] == at("run", run)


def test_what_was_imported_is_found_and_what_was_taken_back_is_not(counter_client, looked_at):
    run = looked_at(LIST)
    counter_client.post(at("do", run))
    made = Analyzer.objects.get()
    find = reverse("counter:search")
    assert counter_client.get(find, {"q": "00123"})["Location"] == reverse("counter:analyzer", args=[made.pk])
    counter_client.post(at("undo", run))
    assert counter_client.get(find, {"q": "00123"}).status_code == 200
    assert not SearchKey.objects.filter(kind="analyzer").exists()
