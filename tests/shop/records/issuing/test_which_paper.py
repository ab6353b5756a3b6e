"""Which paper and sticker an outcome gets: each row of the table in the handbook against what is really issued."""

import dataclasses
import re
from datetime import date
from pathlib import Path

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import record_from_json
from flueproof.papers.content.outcome import paper_kind, verdict_of
from flueproof.papers.issue import Issue
from flueproof.papers.labels.content import sticker_of
from flueproof.papers.papers_for import papers_for
from flueproof.shop.records.issuing.making import PREFIXES, due_on_paper
from flueproof.simulate.demo import DemoCase, demo_record, demo_records
from flueproof.simulate.demo_visits import acts
from flueproof.simulate.truth import StepResponse, Truth
from shop.loaded import demo

PAGE = Path(__file__).parents[4] / "docs" / "guide" / "papers-of-the-shop.md"
COLUMNS = ("row", "outcome", "title", "number", "sticker", "due", "tag", "records")
ISSUE = Issue("FP-2026-00001", date(2026, 11, 25), "S. Alder")


def table():
    """Return the rows of the handbook's table by their name."""
    lines = re.search(r"(?m)^\| row \|.*\n\|[-| ]+\n((?:\|.*\n)+)", PAGE.read_text(encoding="utf-8")).group(1)
    rows = [
        dict(zip(COLUMNS, (cell.strip() for cell in line.split("|")[1:-1]), strict=True)) for line in lines.splitlines()
    ]
    return {row["row"].strip("`"): row for row in rows}


def demos_of(row):
    return re.findall(r"`([^`]+)`", row["records"])


def judged_demo(name):
    given = demo(name)
    record, profile = record_from_json(given.record), shipped_profile(given.profile_name)
    return record, profile, judge_record(record, profile)


def worn_out():
    """Both cells and the instrument's own path gone: simulated, nothing set by hand."""

    def run(visit):
        acts.air_first(visit)
        acts.with_instrument_tests(visit)

    slow = StepResponse(dead_s=6.0, tau_s=20.0, tail_share=0.03, tail_tau_s=90.0)
    truth = Truth(dead=frozenset({"co"}), o2_output=0.5, dilution_instrument=0.06, responses={"o2": slow})
    case = DemoCase("worn-out", "Worn out", run, "not-worth-repair", truth,
                    references=("cyl-co-500", "cyl-co-o2", "therm-1", "therm-air", "mano-1"))  # fmt: skip
    record, profile = record_from_json(demo_record(case, 77).record), shipped_profile("two-cell-residential")
    return record, profile, judge_record(record, profile)


def out_of_reach():
    """A CO cell that reads low in an analyzer whose profile lets this shop adjust nothing."""
    record = record_from_json(demo("co-cell-low").record)
    profile = dataclasses.replace(shipped_profile("two-cell-residential"), adjust={})
    return record, profile, judge_record(record, profile)


BUILT = {"not-worth": worn_out, "no-access": out_of_reach}
CASES = [(row, name) for row, cells in table().items() for name in demos_of(cells) or [None]]


def issued(record, profile, judgement):
    """Return what the code gives, in the words of the table."""
    kind, files = paper_kind(record, judgement, profile), papers_for(record, profile, judgement, ISSUE)
    sticker = sticker_of(record, judgement, ISSUE)
    assert ("sticker.pdf" in files) == ("sticker.zpl" in files) == (sticker is not None)
    assert (sticker is None or bool(sticker.due)) == (due_on_paper(record, judgement) is not None or sticker is None)
    main = "certificate" if "certificate.pdf" in files else "bench-report"
    assert f"{main}.pdf" in files
    words = "none" if sticker is None else ": ".join(part for part in (sticker.done, sticker.warning) if part)
    return {
        "outcome": f"`{verdict_of(judgement).outcome}`",
        "title": kind.title,
        "number": PREFIXES[main],
        "sticker": words,
        "due": "where agreed" if due_on_paper(record, judgement) else "none",
        "tag": "yes" if "tag.pdf" in files else "no",
    }


@pytest.mark.parametrize(("row", "name"), CASES)
def test_the_row_of_the_handbook_is_what_the_code_issues(row, name):
    said = table()[row]
    found = issued(*(judged_demo(name) if name else BUILT[row]()))
    assert {key: said[key] for key in found} == found


@pytest.mark.parametrize(("row", "name"), [pair for pair in CASES if pair[1]])
def test_the_shop_issues_and_keeps_exactly_that(row, name, visit_of, signed):
    said, paper = table()[row], signed(visit_of(name))
    names = {file.name for file in paper.files.all()}
    assert paper.number.startswith(said["number"] + "-")
    assert f"`{paper.outcome}`" == said["outcome"]
    assert ("sticker.pdf" in names) == (said["sticker"] != "none")
    assert ("tag.pdf" in names) == (said["tag"] == "yes")
    assert (paper.due_on is not None) == (said["due"] == "where agreed")


def test_every_demo_record_fits_a_row_and_every_outcome_has_one():
    rows = [{key: row[key] for key in ("outcome", "number", "sticker", "due", "tag")} for row in table().values()]
    for given in demo_records():
        found = issued(*judged_demo(given.name))
        found.pop("title")
        assert found in rows, given.name
    outcomes = {row["outcome"].strip("`") for row in table().values()}
    assert outcomes == {
        "ready-to-sign", "outside-as-ordered", "limited", "work-needed", "incomplete", "not-worth-repair",
        "beyond-our-access",
    }  # fmt: skip
