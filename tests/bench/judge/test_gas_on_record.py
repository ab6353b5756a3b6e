"""A test gas as the record writes it, taken over as a blend with its certificate."""

import datetime as dt

import pytest

from flueproof.bench.judge.gas_on_record import blend_of, certificate_of, certified_components, common_cause, state_on
from flueproof.bench.record.references import TestGas


def gas(**change):
    values = {
        "kind": "test-gas",
        "supplier": "Gas House (invented)",
        "number": "D-12",
        "lot": "L-81",
        "certificate": "LN-88213",
        "balance": "nitrogen",
        "certified": "2026-01-01",
        "expires": "2028-01-01",
        "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}},
    }
    return TestGas.model_validate(values | change)


def test_components_keep_their_units_and_uncertainties():
    """JCGM 100:2008, 4.3.3: expanded over k."""
    part = certified_components(gas())["co"]
    assert (part.value, part.unit, part.u) == (502.0, "ppm", 2.5)


@pytest.mark.parametrize(
    ("written", "balance"), [("nitrogen", "nitrogen"), ("N2", "nitrogen"), (" Zero Air ", "air"), ("air", "air")]
)
def test_a_balance_may_be_written_as_labels_write_it(written, balance):
    assert blend_of(gas(balance=written)).balance == balance


def test_nothing_is_said_of_an_unknown_balance():
    assert blend_of(gas(balance="swamp gas")) is None
    assert state_on(gas(balance="swamp gas"), dt.date(2026, 11, 3)) is None


@pytest.mark.parametrize(("paper", "of_lot"), [("lot L-81", True), ("Lot certificate L-81", True), ("LN-88213", False)])
def test_a_paper_that_names_the_lot_is_of_the_lot(paper, of_lot):
    assert certificate_of(gas(certificate=paper)).of_lot is of_lot


def test_canisters_of_one_lot_share_their_error_and_cylinders_do_not():
    lot = {"certificate": "lot L-81"}
    assert common_cause(gas(**lot), "can-1") == common_cause(gas(**lot, number="D-13"), "can-2")
    assert common_cause(gas(**lot), "can-1") != common_cause(gas(certificate="lot L-82", lot="L-82"), "can-3")
    assert common_cause(gas(), "cyl-1") != common_cause(gas(), "cyl-2")


def test_a_paper_without_a_lot_is_of_its_cylinder():
    assert certificate_of(gas(certificate="lot sheet", lot=None)).of_lot is False


@pytest.mark.parametrize(("day", "usable"), [("2028-01-01", True), ("2028-01-02", False), ("2025-12-31", False)])
def test_a_gas_may_be_used_from_its_certificate_to_its_expiry(day, usable):
    assert state_on(gas(), dt.date.fromisoformat(day)).usable is usable
