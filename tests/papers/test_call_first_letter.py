"""The letter to an owner whose analyzer was found outside: own wording, the judge's own numbers."""

import datetime as dt

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import record_from_json
from flueproof.papers.call_first_letter import LetterHead, call_first_letter_pdf, letter_content, letter_text
from flueproof.simulate.demo import demo_records

HEAD = LetterHead(("Tidewater Heating (invented)", "5 Quay Street"), "555-0199", dt.date(2026, 11, 25), "R. Vale")


def judged(name):
    demo = next(one for one in demo_records() if one.name == name)
    record = record_from_json(demo.record)
    return record, judge_record(record, shipped_profile(demo.profile_name))


def letter(name, head=HEAD):
    return letter_content(*judged(name), head)


def test_a_failed_point_stands_with_its_error_limit_and_uncertainty():
    record, judgement = judged("co-cell-low")
    point = next(p for p in judgement.points if p.statement == "not-conform" and p.counts)
    line = letter_content(record, judgement, HEAD)["findings"][0]
    assert line.startswith("CO showed ")
    assert f"{point.reference:.0f} ppm" in line
    assert "limit ±" in line
    assert "(U " in line


def test_co_that_reads_low_carries_the_warning():
    assert "dangerous places safe" in letter("co-cell-low")["warning"]


@pytest.mark.parametrize("name", ["draft-off", "thermocouple-off", "healthy"])
def test_other_failures_carry_none(name):
    assert letter(name)["warning"] == ""


def test_a_cell_without_any_reading_is_said_in_words():
    assert any("CO" in line for line in letter("co-cell-dead")["findings"])


def test_a_leak_is_named():
    assert "A leak in the probe assembly." in letter("leak-in-probe")["findings"]


def test_the_units_are_those_of_the_papers():
    us = letter("thermocouple-off")["findings"][0]
    si = letter("thermocouple-off", LetterHead(HEAD.to, "", HEAD.written_on, "R. Vale", "a4", "si"))["findings"][0]
    assert "°F" in us
    assert "°C" in si


def test_what_is_proposed_never_asks_the_owner_to_ask_the_owner():
    assert letter("co-cell-low")["proposal"]
    assert not any(line.startswith("Ask the owner") for line in letter("co-cell-low")["proposal"])


def test_a_healthy_unit_is_not_called_outside():
    assert "outside its limits:" not in letter("healthy")["opening"]


def test_the_text_holds_all_that_the_letter_says():
    content = letter("leak-in-probe")
    text = letter_text(content)
    for line in (*content["findings"], *content["proposal"], content["question"], content["by"]):
        assert line in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_it_is_set_as_one_page(paper):
    import pypdfium2

    pdf = call_first_letter_pdf(
        letter("leak-and-co-cell-low", LetterHead(HEAD.to, "", HEAD.written_on, "R. Vale", paper))
    )
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 1
    assert "leak in the probe" in document[0].get_textpage().get_text_range()


def test_marks_of_a_markup_stay_text():
    record, judgement = judged("co-cell-low")
    content = letter_content(record, judgement, LetterHead(("#panic() *x*",), "", HEAD.written_on, "$a$"))
    assert call_first_letter_pdf(content).startswith(b"%PDF")
