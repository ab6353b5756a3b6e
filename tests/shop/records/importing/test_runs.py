"""An import from file to finding: the handbook's example says what it says; sheets, names, what hinders."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from django.db import connection

from flueproof.shop.records.importing.errors import FileRefusedError
from flueproof.shop.records.importing.runs import (
    change_understanding,
    choose_sheet,
    hindrances,
    seconds_held,
    table_of,
    take_file,
    understanding_of_run,
)
from flueproof.shop.records.models import Analyzer, Application, ImportRun, Visit

PAGE = Path(__file__).resolve().parents[4] / "docs" / "guide" / "importing.md"


def shown(run):
    return {kind: count for kind, count in run.found["kinds"].items() if count}


def test_the_example_of_the_handbook_does_what_the_page_says(looked_at, people, now):
    example = re.search(r"(?ms)^```text\n(.*?)^```", PAGE.read_text(encoding="utf-8")).group(1)
    run = looked_at(example)
    assert shown(run) == {"new": 3, "waiting": 1, "error": 1}
    assert [one["row"] for one in run.found["listed"]["waiting"]] == [4]
    assert hindrances(run) == ["1 row has a date that can be read in two ways. Choose the order of day and month."]
    told = replace(understanding_of_run(run), date_order="mdy")
    run = change_understanding(run, told, people["counter"], now)
    assert shown(run) == {"new": 3, "lookalike": 1, "error": 1}
    assert [one["row"] for one in run.found["listed"]["lookalike"]] == [5]
    assert [one["row"] for one in run.found["listed"]["error"]] == [6]
    assert run.found["makes"] == {"owner": 2, "contact": 2, "address": 1, "analyzer": 3, "due": 3}
    assert hindrances(run) == []


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("C:\\lists\\units.csv", "units.csv"),
        ("../../units.csv", "units.csv"),
        ("", "list"),
        (f"{'u' * 300}.csv", f"{'u' * 156}.csv"),
    ],
)
def test_a_file_name_is_only_a_name(people, now, given, kept):
    assert take_file(b"Owner,Serial\nBirch,1\n", given, people["counter"], now).file_name == kept


def test_what_cannot_be_read_leaves_nothing_behind(people, now):
    with pytest.raises(FileRefusedError):
        take_file(b"%PDF-1.7", "units.pdf", people["counter"], now)
    assert not ImportRun.objects.exists()


def test_a_long_list_waits_for_the_bench_where_one_writes_at_a_time(looked_at, job, people, now, monkeypatch):
    monkeypatch.setattr("flueproof.shop.records.importing.runs._LONG_LIST", 2)
    run = looked_at("Owner,Phone\nBirch (invented),1\nElder (invented),2\n")
    visit = Visit.objects.create(job=job, number=1, opened_at=now, opened_by=people["technician"])
    gas = Application.objects.create(visit=visit, plan={}, began_at=now, began_by=people["technician"])
    if connection.vendor == "sqlite":
        assert seconds_held(run) == 5
        assert "The bench is measuring on job J-2026-00042" in hindrances(run)[0]
    else:
        assert seconds_held(run) == 0
        assert hindrances(run) == []
    gas.ended_at, gas.ended = now, "dropped"
    gas.save()
    assert hindrances(run) == []


def test_choosing_a_sheet_forgets_the_look_at_the_other(looked_at):
    from io import BytesIO

    from openpyxl import Workbook

    book, kept = Workbook(), BytesIO()
    book.active.append(["Owner", "Phone"])
    book.active.append(["Birch", "555"])
    book.create_sheet("Units").append(["Owner", "Make", "Model", "Serial"])
    book["Units"].append(["Birch", "Orrin", "Orrin 5", "007"])
    book.save(kept)
    run = looked_at(kept.getvalue())
    assert shown(run) == {"new": 1}
    run = choose_sheet(run, "Units")
    assert run.found == {}
    assert table_of(run).header == ["Owner", "Make", "Model", "Serial"]
    assert understanding_of_run(run).columns["serial"] == 3
    assert not Analyzer.objects.exists()
