"""The certificate as a reader sees it: text and look of the finished PDF."""

import dataclasses
import math
from datetime import date

import pytest

from flueproof.bench.judgement import Action, Note, Verdict
from flueproof.papers.certificate import certificate_pdf
from flueproof.papers.issue import Issue

HOSTILE = [
    '#panic("owned")', "*bold* _it_ `raw`", "$x^2$ @ref <label> \\ ~ --", '#eval(1+1) #read("/etc/passwd")',
    "<script>alert(1)</script> & &lt;", "^XA^FDx^FS~JA", "]#[ }{ [", "// comment /* */", "= Heading", "- list",
]  # fmt: skip


@pytest.fixture(scope="module")
def made(record, profile, judgement, issue):
    return certificate_pdf(record, profile, judgement, issue)


class TestIso17025Clause78SecondHand:
    """ISO/IEC 17025:2017, 7.8.2.1 and 7.8.4.1, as two digests give them: every item asked for stands on the paper."""

    @pytest.mark.parametrize(
        "wanted",
        [
            "Calibration certificate (verification and adjustment)", "Harrow Lane Test Bench (invented)",
            "1 Harrow Lane, Port Alder", "Tidewater Heating (invented)", "FGA-1 rev 3", "Orrin 5", "O5-20417",
            "scratched case, dry", "probe, hose, trap, air sensor", "2 November 2026", "3 November 2026",
            "4 November 2026", "relate only to the item tested", "R. Vale", "NO filter: no NO gas at hand",
            "End of certificate FP-2026-0042", "72.3", "41 % RH", "1008 hPa", "LN-88213", "T-1190", "P-0031",
            "traceable to the SI", "OIML R 144:2013, 4.3", "Adjusted CO, 502 ppm entered", "As found", "As left",
            "Carbon monoxide can kill", "Local codes", "compressed", "licensed",
        ],
    )  # fmt: skip
    def test_it_stands_on_the_paper(self, made, readback, wanted):
        assert wanted.replace(" ", "") in readback.flat(made)

    def test_number_and_page_of_pages_stand_on_every_page(self, made, readback):
        pages = readback.text_of(made)
        assert len(pages) == 2
        for index, page in enumerate(pages, start=1):
            assert "FP-2026-0042" in page
            assert f"page {index} of 2" in page

    def test_no_accreditation_is_claimed_unless_configured_and_ordered(
        self, made, sample, profile, judgement, readback
    ):
        assert "ccredit" not in readback.flat(made)
        claim = Issue("X-1", date(2026, 11, 4), "R. Vale", accredited_claim="Accredited under no. 000 (invented)")
        quiet = certificate_pdf(sample.record_of(), profile, judgement, claim)
        assert "ccredit" not in readback.flat(quiet)
        ordered = sample.record_json()
        ordered["order"]["accredited"] = True
        loud = certificate_pdf(sample.record_of(ordered), profile, judgement, claim)
        assert "Accreditedunderno.000" in readback.flat(loud)
        bare = certificate_pdf(
            sample.record_of(ordered), profile, judgement, Issue("X-1", date(2026, 11, 4), "R. Vale")
        )
        assert "Anaccreditedcertificatewasordered;thispaperisnotone." in readback.flat(bare)


def test_found_and_left_stand_side_by_side_in_one_line(made, readback):
    line = next(line for line in readback.text_of(made)[0].splitlines() if "502.0" in line and "501.2" in line)
    assert [part for part in ("447.6", "−54.4", "501.2", "−0.8") if part in line] == ["447.6", "−54.4", "501.2", "−0.8"]


def test_decimal_signs_of_a_column_lie_under_each_other(record, profile, judgement, issue):
    import pypdfium2

    two = dataclasses.replace(judgement, points=tuple(
        dataclasses.replace(p, U=71.0) if p.channel == "co" and p.reference > 200 else p for p in judgement.points
    ))  # fmt: skip
    document = pypdfium2.PdfDocument(certificate_pdf(record, profile, two, issue))
    page = document[0].get_textpage()
    places, table = {}, page.get_text_range().index("Reference")
    for wanted in ("502", "100.0"):
        searcher = page.search(wanted, index=table)
        index, _ = searcher.get_next()
        places[wanted] = page.get_charbox(index + 2)
        searcher.close()
    page.close()
    document.close()
    assert places["502"][2] == pytest.approx(places["100.0"][2], abs=0.6)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_a_full_record_takes_two_pages_of_either_paper(record, profile, judgement, readback, paper, size):
    made = certificate_pdf(record, profile, judgement, Issue("FP-1", date(2026, 11, 4), "R. Vale", paper=paper))
    assert readback.sizes_mm(made) == [pytest.approx(size, abs=0.2)] * 2


def test_units_follow_the_shop(record, profile, judgement, readback):
    us = readback.flat(certificate_pdf(record, profile, judgement, Issue("FP-1", date(2026, 11, 4), "V", units="us")))
    si = readback.flat(certificate_pdf(record, profile, judgement, Issue("FP-1", date(2026, 11, 4), "V", units="si")))
    assert "391.6" in us  # 199.8 degC
    assert "199.8" in si
    assert "199.8" not in us
    assert "±5.4" in us  # a limit of 3 K is a difference: 5.4, not 37.4
    assert "inH₂O" in us or "inH2O" in us


def test_the_file_is_a_tagged_archive_without_system_fonts(made, readback):
    with readback.opened(made) as pdf:
        meta = pdf.open_metadata()
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("2", "A")
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        fonts = {str(font.BaseFont) for page in pdf.pages for font in page.Resources.Font.values()}
    assert all("SourceSans" in font for font in fonts)


def test_the_same_record_gives_the_same_bytes(record, profile, judgement, issue, made):
    assert certificate_pdf(record, profile, judgement, issue) == made


@pytest.mark.parametrize("text", HOSTILE)
def test_text_from_a_record_is_printed_and_never_run(sample, profile, judgement, issue, readback, text):
    given = sample.record_json()
    given["owner"]["name"] = text
    given["received"]["condition"] = text
    given["analyzer"]["serial"] = text
    noted = dataclasses.replace(judgement, notes=(Note("x", text),), not_tested=(text,))
    made = certificate_pdf(sample.record_of(given), profile, noted, issue)
    assert readback.flat(made).count("".join(text.split())) >= 4


@pytest.mark.parametrize(
    "text",
    [
        "שלום עולם " * 30, "مرحبا بالعالم " * 30, "ת ׯ װ ױ ײ ׳ ״ " * 20, "🎉🧪" * 40, "W" * 200, "漢字" * 60,
        "a\u0301\u0323\u0316b" * 25,
    ],
)  # fmt: skip
def test_odd_text_neither_crashes_nor_leaves_the_paper(sample, profile, judgement, issue, readback, text):
    given = sample.record_json()
    given["owner"]["name"] = text[:120].strip()
    given["analyzer"]["serial"] = text[:60].strip()
    given["references"]["cyl-co-500"]["supplier"] = text[:100].strip()
    made = certificate_pdf(sample.record_of(given), profile, judgement, issue)
    for page in range(len(readback.text_of(made))):
        picture = readback.picture_of(made, dpi=40, page=page).convert("L")
        margin = round(17 / 25.4 * 40)
        right = picture.crop((picture.width - margin, 0, picture.width, picture.height))
        assert right.getextrema()[0] > 200, f"ink in the right margin of page {page + 1}"


def test_a_dead_channel_and_an_empty_record_are_still_a_paper(record, profile, sample, issue, readback):
    dead = sample.point("co", 502.0, math.nan, statement="not-conform", caveat="The display gave no reading.")
    judgement = sample.judgement_of(points=(dead,), as_left=None)
    said = readback.flat(certificate_pdf(record, profile, judgement, issue))
    assert "Thedisplaygavenoreading." in said
    assert "COgavenoreadingongaswith502.0ppm." in said
    bare = sample.judgement_of(points=(), checks=(), gas_path={}, not_tested=(), notes=(), as_left=None)
    assert "Benchreport" in readback.flat(certificate_pdf(record, profile, bare, issue))


def test_a_bench_report_cannot_be_mistaken_for_a_pass(record, profile, sample, issue, readback):
    verdict = Verdict("work-needed", (Action("mend-path", "The tip dilutes by 6 %.", where="probe"),))
    judgement = sample.judgement_of(as_left=None, as_found=verdict)
    made = certificate_pdf(record, profile, judgement, issue)
    said = readback.flat(made)
    assert "Benchreport:nocertificate" in said
    assert "NOCERTIFICATE" in said
    assert "withaprobabilityof" not in said
    assert "FP-2026-0042" not in said
    assert "Mendthegaspath(probe)" in said
    for page in readback.text_of(made):
        assert "no certificate" in page.lower()


def test_the_statements_survive_a_photocopier(made, readback):
    """Black and white at 150 dpi: the marks keep their shapes, so the page is neither empty nor blotted."""
    page = readback.picture_of(made, dpi=150).convert("L")
    black = page.point(lambda level: 0 if level < 128 else 255)
    share = sum(1 for level in black.get_flattened_data() if level == 0) / (black.width * black.height)
    assert 0.01 < share < 0.15


def test_a_unit_returned_outside_its_limits_says_so_and_warns_where_co_reads_low(
    record, profile, sample, issue, readback
):
    low = sample.point("co", 502.0, 395.8)
    judgement = sample.judgement_of(
        points=(low,), as_left=None, as_found=Verdict("outside-as-ordered", signable=True), not_tested=()
    )
    said = readback.flat(certificate_pdf(record, profile, judgement, issue))
    assert "Verificationreport:outsidelimits,returnedasordered" in said
    assert "donotmeasurewiththisanalyzer" in said


def test_the_signature_never_stands_alone_on_a_page(record, profile, sample, issue, readback):
    for many in range(0, 40, 4):
        notes = tuple(Note("n", f"Remark number {index} about the work.") for index in range(many))
        last = readback.text_of(certificate_pdf(record, profile, sample.judgement_of(notes=notes), issue))[-1]
        assert "Please note" in last
        assert "authorized to release" in last


def test_the_first_lines_tell_how_it_was_found_also_where_it_conforms_as_left(made, readback):
    page = readback.text_of(made)[0]
    top = "".join(page[: page.index("Owner")].split())
    assert "Asleft:conformsatallpointstested." in top
    assert "Asfound:outsidelimits.COread11%low" in top


def test_a_unit_outside_its_limits_gets_no_due_date(record, profile, sample, issue, readback):
    verdict = Verdict("outside-as-ordered", signable=True)
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, 395.8),), as_left=None, as_found=verdict)
    assert "astheownerasked" not in readback.flat(certificate_pdf(record, profile, judgement, issue))


def test_a_long_condition_is_printed_whole(sample, profile, judgement, issue, readback):
    given = sample.record_json()
    given["received"]["condition"] = "scratched " * 190 + "END-OF-IT"
    said = readback.flat(certificate_pdf(sample.record_of(given), profile, judgement, issue))
    assert "InfullunderNotes:scratched" in said
    assert "END-OF-IT" in said


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("units", ["us", "si"])
def test_two_cell_demo_records_take_two_pages_and_end_with_the_mark(readback, paper, units):
    from flueproof.analyzer.profile_reader import shipped_profile
    from flueproof.bench.judge.judge import judge_record
    from flueproof.bench.record.reader import record_from_json
    from flueproof.simulate.demo import demo_records

    names = {"adjusted", "co-cell-replaced", "leak-in-instrument", "no-probe-came"}
    for demo in (demo for demo in demo_records() if demo.name in names):
        record = record_from_json(demo.record)
        profile = shipped_profile(record.analyzer.profile.name)
        issue = Issue("FP-1", date(2026, 11, 4), "R. Vale", paper=paper, units=units)
        pages = readback.text_of(certificate_pdf(record, profile, judge_record(record, profile), issue))
        assert len(pages) == 2, demo.name
        assert "End of" in pages[-1]
        assert "%\n" not in pages[0].replace(" %\n", "")


class TestAmendedPaperIso17025Clause788SecondHand:
    """ISO/IEC 17025:2017, 7.8.8, second-hand: a new paper with its own number that names the old and the change."""

    def test_old_number_reason_and_change_stand_on_top(self, record, profile, judgement, readback):
        issue = Issue(
            "FP-2026-0043", date(2026, 11, 9), "R. Vale", amends="FP-2026-0042", amended_why="The serial was misread",
            changed=("Analyzer, serial: was O5-20417, is O5-20471",),
        )  # fmt: skip
        first = readback.flat(certificate_pdf(record, profile, judgement, issue))
        assert "ThispaperamendsFP-2026-0042andtakesitsplace.Why:Theserialwasmisread." in first
        assert "Whatisdifferent:Analyzer,serial:wasO5-20417,isO5-20471." in first
        assert "FP-2026-0043" in first

    def test_it_says_so_when_results_and_statements_did_not_change(self, record, profile, judgement, readback):
        issue = Issue("FP-2", date(2026, 11, 9), "R. Vale", amends="FP-1", amended_why="Other paper size")
        assert "Resultsandstatementsareasbefore." in readback.flat(certificate_pdf(record, profile, judgement, issue))

    def test_hostile_reasons_are_only_text(self, record, profile, judgement, readback):
        issue = Issue("FP-2", date(2026, 11, 9), "R. Vale", amends="FP-1", amended_why='#panic("owned") *b*')
        assert '#panic("owned")*b*' in readback.flat(certificate_pdf(record, profile, judgement, issue))

    def test_a_paper_that_amends_nothing_says_nothing_of_it(self, made, readback):
        assert "takesitsplace" not in readback.flat(made)
