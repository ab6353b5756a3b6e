"""Stickers as they leave the printer: text, code, due date, sheet."""

from datetime import date

import pytest

from flueproof.bench.judgement import Verdict
from flueproof.papers.errors import LabelSizeError
from flueproof.papers.issue import Issue
from flueproof.papers.labels.content import sticker_of
from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.papers.labels.sticker import sticker_pdf, sticker_sheet_pdf

DAY = date(2026, 11, 4)


@pytest.fixture(scope="module")
def sticker(record, judgement, issue):
    return sticker_of(record, judgement, issue)


def test_it_says_what_was_done_when_by_whom_and_until_when(sticker, readback):
    made = sticker_pdf(sticker, shipped_sizes().label("50x30"), DAY)
    said = readback.flat(made)
    for wanted in ("O5-20417", "Calibrated03Nov2026", "Due03Nov2027", "FP-2026-0042", "R.Vale"):
        assert wanted in said
    assert readback.sizes_mm(made) == [(50.0, 30.0)]


@pytest.mark.parametrize("name", sorted(shipped_sizes().single))
@pytest.mark.parametrize("dpi", [203, 300])
def test_the_code_reads_back_from_the_rendered_label(sticker, readback, name, dpi):
    made = sticker_pdf(sticker, shipped_sizes().label(name), DAY)
    assert readback.codes_of(made, dpi) == ["FP-2026-0042/O5-20417"]


def test_the_due_date_stands_there_only_where_the_owner_asked(sample, judgement, issue, readback):
    given = sample.record_json()
    given["order"]["due"] = {"wanted": False}
    made = sticker_pdf(sticker_of(sample.record_of(given), judgement, issue), shipped_sizes().label("50x30"), DAY)
    assert "Due" not in readback.flat(made)
    assert "2027" not in readback.flat(made)


@pytest.mark.parametrize(("outcome", "said"), [("limited", "LIMITED"), ("outside-as-ordered", "OUTSIDELIMITS")])
def test_what_is_no_plain_pass_says_so(sample, record, issue, readback, outcome, said):
    judgement = sample.judgement_of(as_found=Verdict(outcome, signable=True), as_left=None)
    made = sticker_pdf(sticker_of(record, judgement, issue), shipped_sizes().label("50x30"), DAY)
    assert said in readback.flat(made)
    assert ("Due" in readback.flat(made)) == (outcome == "limited")


@pytest.mark.parametrize("name", sorted(shipped_sizes().single))
@pytest.mark.parametrize("warning", ["", "LIMITED, see certificate"])
def test_no_line_lies_over_another(sticker, readback, name, warning):
    import dataclasses

    import pypdfium2

    full = dataclasses.replace(sticker, warning=warning, done="Tested in part")
    document = pypdfium2.PdfDocument(sticker_pdf(full, shipped_sizes().label(name), DAY))
    page = document[0].get_textpage()
    found = [page.get_rect(index) for index in range(page.count_rects())]
    page.close()
    document.close()
    for index, (left, low, right, high) in enumerate(found):
        for other_left, other_low, other_right, other_high in found[index + 1 :]:
            apart_across = min(right, other_right) - max(left, other_left) <= 0.5
            assert apart_across or min(high, other_high) - max(low, other_low) <= 0.5


def test_no_certificate_no_sticker(sample, record, issue):
    assert sticker_of(record, sample.judgement_of(as_left=None), issue) is None


@pytest.mark.parametrize(("name", "size"), [("letter-30", (215.9, 279.4)), ("a4-30", (210.0, 297.0))])
def test_thirty_on_a_sheet_all_read_back(sticker, readback, name, size):
    made = sticker_sheet_pdf([sticker] * 30, shipped_sizes().layout(name), DAY)
    assert readback.sizes_mm(made) == [pytest.approx(size, abs=0.2)]
    assert readback.codes_of(made) == ["FP-2026-0042/O5-20417"] * 30


def test_a_half_used_sheet_goes_on_where_it_was_left(sticker, readback):
    made = sticker_sheet_pdf([sticker] * 3, shipped_sizes().layout("letter-30"), DAY, first=29)
    assert len(readback.sizes_mm(made)) == 2
    assert len(readback.codes_of(made)) == 2


def test_places_that_are_not_on_the_sheet_are_refused(sticker):
    with pytest.raises(LabelSizeError, match="1 to 30"):
        sticker_sheet_pdf([sticker], shipped_sizes().layout("a4-30"), DAY, first=31)
    with pytest.raises(LabelSizeError, match="at least one"):
        sticker_sheet_pdf([], shipped_sizes().layout("a4-30"), DAY)


@pytest.mark.parametrize("serial", ["W" * 60, "שלום-123", "🎉9", '#panic("x")', "^XA~JA", "a_b c"])
def test_odd_serials_fit_and_the_code_still_reads(sample, judgement, issue, readback, serial):
    given = sample.record_json()
    given["analyzer"]["serial"] = serial
    sticker = sticker_of(sample.record_of(given), judgement, issue)
    made = sticker_pdf(sticker, shipped_sizes().label("50x30"), DAY)
    assert len(readback.sizes_mm(made)) == 1
    assert readback.codes_of(made, 300) == [sticker.code]
    edge = readback.picture_of(made, 300).convert("L")
    assert edge.crop((0, 0, edge.width, 8)).getextrema()[0] == 255
    assert edge.crop((edge.width - 8, 0, edge.width, edge.height)).getextrema()[0] == 255


def test_the_shops_own_address_may_stand_before_the_number(record, judgement, readback):
    issue = Issue("FP-1", DAY, "R. Vale", link="https://shop.invalid/c/")
    sticker = sticker_of(record, judgement, issue)
    assert sticker.code == "HTTPS://SHOP.INVALID/C/FP-1/O5-20417"
    assert readback.codes_of(sticker_pdf(sticker, shipped_sizes().label("50x30"), DAY), 203) == [sticker.code]
