"""A cylinder or instrument as the rack and its own page print it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.utils.safestring import SafeString

from flueproof.bench.record.references import Component, TestGas
from flueproof.shop.frame.forms.certificate import GAS_IN_WORDS
from flueproof.shop.frame.forms.pressure import gauge_text
from flueproof.shop.frame.presenters.amounts import SIGNS
from flueproof.shop.gas_rack.presenters.drawing import bottle_drawing
from flueproof.shop.gas_rack.presenters.standing import Standing, standing_of
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.gas.litres import Left, basis_in_words, left
from flueproof.shop.records.models import Reference

_KINDS = {
    "test-gas": "test gas",
    "thermometer": "thermometer",
    "manometer": "manometer",
    "flow-meter": "flow meter",
}
_DRAWINGS = {"thermometer": "thermometer", "manometer": "manometer", "flow-meter": "gauge"}


@dataclass(frozen=True, slots=True)
class Part:
    """One certified component in words: gas, value with unit, uncertainty with how it was stated."""

    gas: str
    value: str
    uncertainty: str


@dataclass(frozen=True, slots=True)
class Bottle:
    """A cylinder ready to print; litres, tests, gauge, cost: "" where not known."""

    reference: Reference
    parts: list[Part]
    balance: str
    standing: Standing
    drawing: SafeString
    litres: str
    tests: str
    gauge: str
    cost: str
    rests_on: str
    per_test: str


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument ready to print."""

    reference: Reference
    kind: str
    drawing: str
    uncertainty: str
    standing: Standing


def kind_in_words(kind: str) -> str:
    """Return what a kind of reference is called."""
    return _KINDS.get(kind, kind)


def bottle_of(reference: Reference, now: datetime, day: date, shop: Any) -> Bottle:
    """Return a cylinder ready to print."""
    gas = certified(reference.content)
    found = left(reference, now)
    standing = standing_of(reference, found, day)
    share = 0.0 if reference.state == "empty" else found.share
    return Bottle(
        reference=reference,
        parts=[_part(str(name), part) for name, part in gas.components.items()] if isinstance(gas, TestGas) else [],
        balance=gas.balance if isinstance(gas, TestGas) else "",
        standing=standing,
        drawing=bottle_drawing(share, tone=standing.tone, name=str(reference.pk)),
        litres="" if found.litres is None else f"{found.litres:,.0f} L",
        tests="" if found.tests is None else f"{found.tests:,}",
        gauge=gauge_text(found.kpa, shop) if found.litres is not None else "",
        cost="" if found.cost is None else f"{found.cost:,.2f}",
        rests_on=_rests_on(found, shop),
        per_test=f"{found.litres_per_test:.1f} L",
    )


def instrument_of(reference: Reference, day: date) -> Instrument:
    """Return an instrument ready to print."""
    content = certified(reference.content)
    words = ""
    if not isinstance(content, TestGas):
        unit = SIGNS.get(content.unit, content.unit)
        words = f"U = {content.expanded_uncertainty:g} {unit} (k = {content.k:g})"
        source = getattr(content, "source_u", None)
        words += f", source {source:g} {unit} (k = 1)" if source else ""
    return Instrument(
        reference, kind_in_words(reference.kind), _DRAWINGS.get(reference.kind, "gauge"), words,
        standing_of(reference, None, day),
    )  # fmt: skip


def _part(name: str, part: Component) -> Part:
    if part.expanded_uncertainty is not None:
        stated = f"U = {part.expanded_uncertainty:g} {part.unit} (k = {part.k:g})"
    else:
        stated = f"± {part.stated_accuracy_pct:g} % as stated, no k: taken as rectangular"
    return Part(GAS_IN_WORDS.get(name, name), f"{part.value:g} {part.unit}", stated)


def _rests_on(found: Left, shop: Any) -> str:
    """Say what the figure rests on, the gauge in the shop's own unit."""
    text = found.rests_on
    if found.litres is not None:
        text = basis_in_words(gauge_text(found.gauge_kpa, shop), found.counted_tests, found.counted_l)
    return f"{text[:1].upper()}{text[1:]}."
