"""A reference's content as the bench record's own values: certificate, blend, dates."""

from __future__ import annotations

from datetime import date
from typing import Any

from pydantic import TypeAdapter

from flueproof.bench.judge.gas_on_record import blend_of
from flueproof.bench.record.references import FlowMeter, Manometer, TestGas, Thermometer
from flueproof.bench.record.references import Reference as RecordReference
from flueproof.shop.records.models import Reference

Certified = TestGas | Thermometer | Manometer | FlowMeter
_READER: TypeAdapter[Any] = TypeAdapter(RecordReference)


def certified(content: dict[str, Any]) -> Certified:
    """Return a reference's content, validated as a bench record validates it.

    Raises: pydantic.ValidationError with the place of each fault.
    """
    found: Certified = _READER.validate_python(content)
    return found


def test_gas_of(reference: Reference) -> TestGas | None:
    """Return the test gas that a reference is, None for an instrument.

    Raises: pydantic.ValidationError.
    """
    if reference.kind != "test-gas":
        return None
    found = certified(reference.content)
    return found if isinstance(found, TestGas) else None


test_gas_of.__test__ = False  # type: ignore[attr-defined]  # a test runner takes the name for a test


def last_good_day(content: Certified) -> date:
    """Return the last day on which a certificate holds: the gas's expiry, the instrument's due date."""
    return content.expires if isinstance(content, TestGas) else content.due


def gas_equation(reference: Reference) -> str:
    """Return the gas that a cylinder's content is counted as: its balance, nitrogen where that is another."""
    gas = test_gas_of(reference)
    blend = blend_of(gas) if gas is not None else None
    return blend.balance if blend is not None else "nitrogen"
