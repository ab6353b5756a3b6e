"""The notice letter as paper: every part on it, both sizes, long lists over pages, text never becomes markup."""

import datetime as dt

import pypdfium2
import pytest

from flueproof.impact.duties.notice import Notice
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.papers.notice_letter.letter import (
    NoticeHead,
    notice_letter_content,
    notice_letter_pdf,
    notice_letter_pictures,
)

HEAD = NoticeHead(
    "Harrow Lane Test Bench (invented)", ("1 Harrow Lane", "555-0199"), ("Tidewater Heating (invented)",),
    dt.date(2026, 11, 25),
)  # fmt: skip


def notice(**changes):
    parts = {
        "subject": "Orrin 5, serial O5-1: CO read too low",
        "opening": "We tested your analyzer as it came in and found it wrong:",
        "warning": "It showed carbon monoxide too low.",
        "findings": ("CO about 20 % too low (between 17 and 23 %).", "O2 right within 0.1 %."),
        "meaning": ("CO air-free came out too low.",),
        "time": "It was last known good on 3 November 2025.",
        "changed_head": "Of the 2 readings you gave us, 1 must be tested again:",
        "changed": (("2026-10-01", "12 Elm *Street* #1", "was inside the limit, is outside", "CO shown 90 ppm"),),
        "left_out": 0,
        "limits": ("ours: CO at most 100 ppm. Source: own.",),
        "courses": "Each reading was worked through as if ...",
        "rule": ONE_RULE,
        "call": "Questions: call us, 555-0199.",
        "by": "R. Vale",
    }
    return Notice(**(parts | changes))


def pages(pdf):
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document], document[0].get_size()
    finally:
        document.close()


def test_every_part_is_on_the_paper():
    (text,), _ = pages(notice_letter_pdf(notice(), HEAD))
    for part in ("Harrow Lane Test Bench", "Tidewater Heating", "25 November 2026", "serial O5-1", "about 20 % too low",
                 "carbon monoxide too low", "1 October 2026", "12 Elm *Street* #1", "last known good", "100 ppm",
                 "It never clears an appliance", "Local codes", "555-0199", "R. Vale", "Page 1 of 1"):  # fmt: skip
        assert part in text, part


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595.28, 841.89))])
def test_it_is_set_on_both_papers(paper, size):
    head = NoticeHead(HEAD.shop, HEAD.shop_lines, HEAD.to, HEAD.written_on, paper)
    assert pages(notice_letter_pdf(notice(), head))[1] == pytest.approx(size, abs=0.5)


def test_a_long_list_runs_over_pages_with_its_head_and_the_rule_on_each():
    lines = tuple(("2026-10-01", f"{n} Elm Street", "was inside the limit, is outside", "CO shown 90 ppm")
                  for n in range(60))  # fmt: skip
    texts, _ = pages(notice_letter_pdf(notice(changed=lines, left_out=4), HEAD))
    assert len(texts) > 1
    assert all("never clears an appliance" in text for text in texts)
    assert all("Your site" in text for text in texts[:2])
    assert "59 Elm Street" in " ".join(texts)
    assert "4 more readings stand in the list" in " ".join(texts)


def test_without_a_log_there_is_no_table():
    (text,), _ = pages(notice_letter_pdf(notice(changed_head="", changed=(), limits=()), HEAD))
    assert "Your site" not in text
    assert "never clears an appliance" in text


def test_formulas_are_printed_as_formulas_and_the_owners_words_stay():
    content = notice_letter_content(notice(changed=(("no date", "Unit O2", "x", "CO2 and O2"),)), HEAD)
    assert content["findings"][1].startswith("O\u2082")
    assert content["changed"][0] == ["no date", "Unit O2", "x", "CO\u2082 and O\u2082"]


@pytest.mark.parametrize(
    "site", ["#panic()", "$x$", "*bold* _it_ `raw` @ref <label>", "\u05e9\u05dc\u05d5\u05dd 12", "x" * 300]
)
def test_what_the_owner_wrote_never_becomes_markup(site):
    assert notice_letter_pdf(notice(changed=(("2026-10-01", site, "what", "said"),)), HEAD)[:5] == b"%PDF-"


def test_the_pages_can_be_looked_at_first():
    assert notice_letter_pictures(notice(), HEAD)[0].startswith(b"\x89PNG")
