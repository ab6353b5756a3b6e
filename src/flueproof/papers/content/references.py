"""What the analyzer was compared with: lettered references with certificate numbers, and the room."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.analyzer.units import to_core
from flueproof.bench.record.references import FlowMeter, Manometer, TestGas, Thermometer
from flueproof.bench.record.steps.surroundings import RoomStep
from flueproof.papers.content.display import display_of, name_of, plain_number, unit_sign
from flueproof.papers.content.work_done import work_dates
from flueproof.papers.due import date_short

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from flueproof.bench.record.record import Record
    from flueproof.bench.record.references import Component


def letters_of(record: Record) -> dict[str, str]:
    """Return a letter for every reference that a standing step used, in order of use.

    Source: common practice, no source.
    """
    used = dict.fromkeys(
        str(named) for step in record.standing_steps() if (named := getattr(step, "reference", None)) is not None
    )
    return {identifier: _letter(index) for index, identifier in enumerate(used)}


def _letter(index: int) -> str:
    return chr(ord("A") + index) if index < 26 else f"{chr(ord('A') + index // 26 - 1)}{chr(ord('A') + index % 26)}"


def reference_rows(record: Record) -> list[dict[str, str]]:
    """Return one row per reference used: letter, what it is, its value with uncertainty, certificate, how long valid.

    Source: ISO/IEC 17025:2017, 7.8.4.1 c, second-hand; gas entries: common practice, no source.
    """
    return [
        {"letter": letter, **_row(record.references[identifier], work_dates(record)[1])}
        for identifier, letter in letters_of(record).items()
    ]


def names_of(record: Record) -> dict[str, str]:
    """Return what every reference is called in a sentence of a paper: "A (cylinder C-7731)", by its key.

    Source: common practice, no source.
    """
    letters = letters_of(record)
    named = {}
    for key, reference in record.references.items():
        if isinstance(reference, TestGas):
            what = f"cylinder {reference.number}" if reference.number else "test gas"
        else:
            what = reference.kind.replace("-", " ")
        named[key] = f"{letters[key]} ({what})" if key in letters else what
    return named


def stated_only(record: Record) -> bool:
    """Return whether a reference that was used has only a stated accuracy, no uncertainty (own rule)."""
    used = (record.references[key] for key in letters_of(record))
    gases = (reference for reference in used if isinstance(reference, TestGas))
    return any(component.stated_accuracy_pct is not None for gas in gases for component in gas.components.values())


def _row(reference: TestGas | Thermometer | Manometer | FlowMeter, used: date) -> dict[str, str]:
    if isinstance(reference, TestGas):
        parts = [f"Cylinder {reference.number}" if reference.number else "Test gas"]
        if reference.lot:
            parts.append(f"lot {reference.lot}")
        if reference.supplier:
            parts.append(reference.supplier)
        values = [_component(gas, component) for gas, component in reference.components.items()]
        return {
            "what": ", ".join(parts),
            "value": "; ".join(values) + f"; balance {reference.balance}",
            "certificate": f"{reference.certificate}, {date_short(reference.certified)}",
            "until": _until(reference.expires, used),
        }
    kind = {"thermometer": "Thermometer", "manometer": "Manometer", "flow-meter": "Flow meter"}[reference.kind]
    value = f"U {plain_number(reference.expanded_uncertainty)} {unit_sign(reference.unit)} (k = {reference.k:g})"
    if isinstance(reference, Thermometer) and reference.source_u:
        value += f"; source of heat u {plain_number(reference.source_u)} {unit_sign(reference.unit)}"
    return {
        "what": kind,
        "value": value,
        "certificate": reference.certificate,
        "until": _until(reference.due, used),
    }


def _until(last: date, used: date) -> str:
    """Return the last valid day; where the work went on after it, that is said in the same cell."""
    return date_short(last) + (", was over" if last < used else "")


def _component(gas: str, component: Component) -> str:
    said = f"{name_of(gas)} {plain_number(component.value, 6)} {component.unit}"
    if component.stated_accuracy_pct is not None:
        return f"{said} \u00b1 {component.stated_accuracy_pct:g} % stated, taken as rectangular"
    assert component.expanded_uncertainty is not None  # noqa: S101  (the record's reader demands one of the two)
    return f"{said}, U {plain_number(component.expanded_uncertainty)} {component.unit} (k = {component.k:g})"


def room_lines(record: Record, units: str) -> list[dict[str, str]]:
    """Return the conditions of the room: air, humidity, pressure, CO, as one value or a range.

    Source: ISO/IEC 17025:2017, 7.8.4.1 b, second-hand.
    """
    rooms = [step for step in record.standing_steps() if isinstance(step, RoomStep)]
    air = [_air_core(step) for step in rooms if step.air is not None]
    display = display_of("degC", units)
    lines = [
        ("air temperature", _span((display.value(value) for value in air), 1), display.sign),
        ("humidity", _span((s.humidity_pct for s in rooms if s.humidity_pct is not None), 0), "% RH"),
        ("air pressure", _span((s.pressure_hpa for s in rooms if s.pressure_hpa is not None), 0), "hPa"),
        ("CO in the room", _span((s.room_co_ppm for s in rooms if s.room_co_ppm is not None), 0), "ppm"),
    ]
    return [{"name": name, "value": f"{value} {unit}"} for name, value, unit in lines if value]


def _air_core(step: RoomStep) -> float:
    assert step.air is not None  # noqa: S101  (only called where it stands)
    return float(to_core(step.air.value, step.air.unit, "temperature"))


def _span(values: Iterable[float], decimals: int) -> str:
    shown = sorted(values)
    if not shown:
        return ""
    low, high = f"{shown[0]:.{decimals}f}", f"{shown[-1]:.{decimals}f}"
    return low if low == high else f"{low} to {high}"
