"""The work list on paper: a sheet a person and day, on the shop's paper, long days go on, foreign text stays text."""

from dataclasses import replace
from datetime import date

import pytest

from flueproof.papers.errors import TypesettingError
from flueproof.papers.work_list.sheet import (
    WorkLine,
    WorkList,
    WorkPage,
    work_list_content,
    work_list_pdf,
    work_list_pictures,
)

LINE = WorkLine(
    "08:30",
    "O5-20417",
    "Orrin 5, Tidewater Heating (invented), J-2026-00012",
    "Test gas",
    "Bench 1",
    "20 min, then it waits 10 min",
    "4 December 2026",
    rush=True,
    late=True,
)
DAY = date(2026, 12, 2)
SHEETS = WorkList(
    "Harrow Lane Test Bench (invented)",
    "Plan of 2 December 2026, 08:00.",
    DAY,
    [WorkPage("R. Vale (invented)", DAY, [LINE] * 12), WorkPage("M. Osei (invented)", DAY, [LINE] * 5)],
)
SIZES = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_each_person_has_a_page_of_the_shops_paper(paper, readback):
    made = work_list_pdf(replace(SHEETS, paper=paper))
    assert readback.sizes_mm(made) == [pytest.approx(SIZES[paper], abs=0.2)] * 2


def test_it_says_who_does_what_where_and_until_when(readback):
    said = readback.flat(work_list_pdf(SHEETS))
    for wanted in (
        "R.Vale(invented)",
        "Wednesday2December2026:12lines",
        "08:30",
        "O5-20417",
        "rush",
        "late",
        "TidewaterHeating(invented),J-2026-00012",
        "Testgas",
        "20min,thenitwaits10min",
        "Bench1",
        "4December2026",
        "HarrowLaneTestBench(invented).Planof2December2026,08:00.",
        "Page2of2",
    ):
        assert wanted in said


def test_a_day_that_is_too_full_goes_on_on_a_further_page_with_its_head(readback):
    full = replace(SHEETS, pages=[WorkPage("R. Vale", DAY, [replace(LINE, at=f"L{n:03}") for n in range(120)])])
    made = work_list_pdf(full)
    said = readback.flat(made)
    assert len(readback.sizes_mm(made)) > 1
    assert all(f"L{n:03}" in said for n in range(120))
    assert said.count("Promised") == len(readback.sizes_mm(made))


def test_thirty_lines_still_stand_on_one_page(readback):
    assert len(readback.sizes_mm(work_list_pdf(replace(SHEETS, pages=[WorkPage("R. Vale", DAY, [LINE] * 30)])))) == 1


def test_text_of_others_stays_text(readback):
    odd = replace(LINE, serial='#import "x" $y$ ]', item="<b>*not bold*</b>")
    said = readback.flat(work_list_pdf(replace(SHEETS, pages=[WorkPage("R. Vale", DAY, [odd])])))
    assert '#import"x"$y$]' in said
    assert "<b>*notbold*</b>" in said


def test_the_pages_can_be_looked_at_as_pictures():
    assert [one[:4] for one in work_list_pictures(SHEETS)] == [b"\x89PNG"] * 2


@pytest.mark.parametrize(("change", "words"), [({"pages": []}, "one person"), ({"paper": "a5"}, "'a5' is not known")])
def test_no_sheet_and_an_unknown_paper_are_refused(change, words):
    with pytest.raises(TypesettingError, match=words):
        work_list_content(replace(SHEETS, **change))
