"""The box slip: its code reads back from print, one page an analyzer, foreign text stays text."""

from dataclasses import replace
from datetime import date

import pytest

from flueproof.papers.box_slip.packing_list import packing_list
from flueproof.papers.box_slip.slip import BoxSlip, Destination, box_slip_content, box_slip_pdf, box_slip_pictures
from flueproof.papers.errors import TypesettingError

SLIP = BoxSlip(
    code="K7M4-P2RX",
    scanned="https://bench.example/box/K7M4-P2RX",
    request="R-7KM4P2",
    serial="O5-20417",
    item="Orrin 5, your number 4",
    owner="Tidewater Heating (invented)",
    contact="Ada Quay (invented), 555-0100",
    complaint="CO stays at 3 ppm in clean air",
    wants=["Verify, adjust if needed", "As-found values wanted"],
    enclosed=["probe", "hose", "spare tip"],
    needed_by=date(2026, 12, 4),
    happened="dropped; last used on oil",
)
TO = Destination("Harrow Lane Test Bench (invented)", ["1 Harrow Lane", "Port Alder"], "555-0100")
SIZES = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


@pytest.fixture(scope="module", params=["letter", "a4"])
def made(request):
    return request.param, box_slip_pdf([SLIP], replace(TO, paper=request.param))


def test_one_page_of_the_shops_paper(made, readback):
    paper, pdf = made
    assert readback.sizes_mm(pdf) == [pytest.approx(SIZES[paper], abs=0.2)]


@pytest.mark.parametrize("dpi", [100, 200, 300])
def test_the_code_reads_back_from_print_also_a_poor_one(made, readback, dpi):
    assert readback.codes_of(made[1], dpi) == ["https://bench.example/box/K7M4-P2RX"]


def test_it_says_whose_it_is_what_is_wanted_and_where_it_goes(made, readback):
    said = readback.flat(made[1])
    for wanted in (
        "K7M4-P2RX",
        "R-7KM4P2",
        "O5-20417",
        "TidewaterHeating(invented)",
        "“COstaysat3ppmincleanair”",
        "Verify,adjustifneeded",
        "4December2026",
        "dropped;lastusedonoil",
        "HarrowLaneTestBench(invented)",
        "1HarrowLane",
        "Wholeprobeassembly·announced",
        "sparetip·announced",
    ):
        assert wanted in said
    assert "Charger·announced" not in said


def test_the_cautions_stand_on_it(made, readback):
    said = readback.flat(made[1])
    for wanted in (
        "Emptythewatertrap",
        "Nogascylinder",
        "nolighter",
        "Built-inlithiumbatteriesstayin",
        "carrier'srules",
        "Out,callforhelp",
    ):
        assert wanted in said


def test_several_analyzers_have_a_page_each_with_a_code_each(readback):
    codes = ["K7M4-P2RX", "A2C3-D4EF", "H5J6-K7MN"]
    slips = [replace(SLIP, code=one, scanned=one, place=n, places=3) for n, one in enumerate(codes, 1)]
    pdf = box_slip_pdf(slips, TO)
    assert len(readback.sizes_mm(pdf)) == 3
    for page, code in enumerate(codes):
        import zxingcpp

        assert [one.text for one in zxingcpp.read_barcodes(readback.picture_of(pdf, 200, page).convert("L"))] == [code]
    assert "analyzer2of3" in readback.flat(pdf)


@pytest.mark.parametrize(
    "text", ["W" * 300, "w w " * 200, "שלום עולם " * 20, "🎉", '#panic("x")', "<script>", "\x00\x07\n\n"]
)
def test_odd_and_long_text_stays_text_on_one_page(readback, text):
    odd = replace(
        SLIP,
        serial=text,
        item=text,
        owner=text,
        contact=text,
        complaint=text,
        happened=text,
        wants=[text] * 12,
        enclosed=[*(one.name for one in packing_list()), *[f"{n} {text}" for n in range(9)]],
    )
    for paper in SIZES:
        pdf = box_slip_pdf([odd], replace(TO, paper=paper, shop=text or "x", address=[text] * 3))
        assert len(readback.sizes_mm(pdf)) == 1
        assert readback.codes_of(pdf) == [SLIP.scanned]


def test_a_serial_that_nobody_read_is_left_to_the_plate(readback):
    assert "Serial:seetheplate" in readback.flat(box_slip_pdf([replace(SLIP, serial="")], TO))


def test_no_slip_and_no_such_paper_are_refused():
    with pytest.raises(TypesettingError, match="one analyzer at least"):
        box_slip_pdf([], TO)
    with pytest.raises(TypesettingError, match="letter, a4"):
        box_slip_content([SLIP], replace(TO, paper="napkin"))


def test_the_picture_shows_the_same_page():
    (picture,) = box_slip_pictures([SLIP], TO)
    assert picture.startswith(b"\x89PNG")
