"""The figures of one reading, ready for the page: the large ones, all by their form, what went in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.analyzer.units import difference_from_core
from flueproof.chemistry.errors import ChemistryError
from flueproof.chemistry.field.figures import Figure
from flueproof.chemistry.loss.condensing import WHY_ABOVE_100
from flueproof.pictures.picture import Picture
from flueproof.shop.flue.presenters.curves import condenses, pictures_of
from flueproof.shop.flue.presenters.units import SIGNS, Shown, shown, signed, turned
from flueproof.shop.flue.reading import FlueReading

GAS: Final[tuple[str, ...]] = ("co2", "excess_air", "excess_air_simple", "lambda", "dew_point")
CO: Final[tuple[str, ...]] = ("co_air_free", "co_undiluted", "co_reference", "co_reference_german")
FORMS: Final = (
    ("German form", "loss_german", "efficiency_german"),
    ("Exact balance", "loss_net", "efficiency_net"),
    ("Exact balance, condensing", "loss_condensing", "efficiency_condensing_net"),
    ("Heat-loss method", "loss_heat_loss_method", "efficiency_heat_loss_method"),
    ("Exact balance", "loss_gross", "efficiency_gross"),
    ("Exact balance, condensing", "", "efficiency_condensing_gross"),
)
"""Each form by its name with the keys of its loss and efficiency, net ones first."""
NO_CONDENSATION: Final = ("loss_german", "loss_net", "loss_heat_loss_method", "loss_gross")
_BASES: Final = {"net": "net (LHV)", "gross": "gross (HHV)"}


@dataclass(frozen=True, slots=True)
class HeatLine:
    """One form of loss and efficiency, as text; care: what is to be minded with it."""

    form: str
    basis: str
    loss: Shown | None
    efficiency: Shown
    care: str


@dataclass(frozen=True, slots=True)
class Given:
    """What went in: a value with its uncertainty as text, and why where the uncertainty was assumed."""

    name: str
    number: str
    expanded: str
    unit: str
    why: str
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture with its drawing marked safe: it is our own SVG, every text in it escaped where it was written."""

    svg: SafeString
    title: str
    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """All that the page shows of one reading; refused: why there is nothing; care: what is to be minded."""

    fuel: str = ""
    made_of: str = ""
    large: tuple[Shown, ...] = ()
    gas: tuple[Shown, ...] = ()
    heat: tuple[HeatLine, ...] = ()
    heat_note: str = ""
    given: tuple[Given, ...] = ()
    pictures: tuple[Drawn, ...] = ()
    care: tuple[str, ...] = ()
    refused: str = ""


def panel_of(reading: FlueReading, unit: str) -> Panel:
    """Return the panel of a reading; unit: of temperatures on the page."""
    try:
        figures = reading.figures()
        faults = reading.faults
        if bool(figures["co2"].refused):
            return Panel(refused=" ".join(faults))
        pictures = pictures_of(reading, figures, unit)
    except ChemistryError as error:
        return Panel(refused=sentence(f"{error}"))
    lines = heat_lines(figures, unit)
    gas = {key: shown(figures[key], unit) for key in (*GAS, *CO) if key in figures}
    return Panel(
        fuel=reading.fuel.name,
        made_of=made_of(reading),
        large=tuple(_large(gas, lines)),
        gas=tuple(gas.values()),
        heat=tuple(lines),
        heat_note=WHY_ABOVE_100 if condenses(figures) else "",
        given=tuple(given_of(reading, unit)),
        pictures=tuple(drawn(one) for one in pictures),
        care=tuple(_cares(reading, figures)),
    )


def inputs_of(reading: FlueReading, unit: str) -> Panel:
    """Return only what went in, for the view that compares analyzers."""
    try:
        given = tuple(given_of(reading, unit, sure=False))
    except ChemistryError as error:
        return Panel(refused=sentence(f"{error}"))
    return Panel(fuel=reading.fuel.name, made_of=made_of(reading), given=given)


def heat_lines(figures: Mapping[str, Figure], unit: str) -> list[HeatLine]:
    """Return the forms that there are for the fuel; those with condensation only where water condenses."""
    wet, lines = condenses(figures), []
    for form, loss, efficiency in FORMS:
        if efficiency not in figures or ("condensing" in efficiency and not wet):
            continue
        care = "Knows no condensation." if wet and loss in NO_CONDENSATION else ""
        left = shown(figures[efficiency], unit)
        lost = shown(figures[loss], unit) if loss else None
        lines.append(HeatLine(form, _BASES[figures[efficiency].basis.heat], lost, left, care))
    return lines


def drawn(picture: Picture) -> Drawn:
    """Return a picture for the page."""
    svg = mark_safe(picture.svg)  # noqa: S308 -- see Drawn
    return Drawn(svg, picture.title, picture.caption, picture.header, picture.rows)


def made_of(reading: FlueReading) -> str:
    """Return the composition of the fuel and who says so, in a line."""
    fuel = reading.fuel
    share = "mole %" if fuel.kind == "gas" else "mass %"
    parts = ", ".join(f"{part} {amount:g}" for part, amount in fuel.composition.items() if amount)
    return f"{parts} ({share}; {fuel.source})"


def given_of(reading: FlueReading, unit: str, *, sure: bool = True) -> list[Given]:
    """Return what went in, each with its uncertainty where that plays a part."""
    named = {"o2": ("O2, dry", "%"), "co": ("CO, dry", "ppm"), "stack": ("Stack", ""), "air": ("Combustion air", "")}
    rows = [_given(*named[key], reading, key, unit, sure=sure) for key in named if key in reading.values]
    if sure and reading.leak_pct:
        rows.append(
            Given("Room air in the sample", "0", f"{reading.leak_pct:.2g}", "%", "as typed; common to O2 and CO")
        )
    where = "sea level" if reading.altitude_m is None else "standard atmosphere"
    rows.append(Given("Air pressure", f"{reading.pressure_hpa:.0f}", "", "hPa", f"{where}, taken as exact"))
    if reading.humidity_pct is None:
        rows.append(Given("Humidity of the air", "dry", "", "", "taken as exact"))
    else:
        rows.append(Given("Humidity of the air", f"{reading.humidity_pct:g}", "", "%", "taken as exact"))
    return rows


def sentence(text: str) -> str:
    """Return a message of the core as a sentence."""
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


def _given(name: str, sign: str, reading: FlueReading, quantity: str, unit: str, *, sure: bool) -> Given:
    value, known = reading.values[quantity], reading.sure(quantity)
    expanded = known.expanded
    if quantity in {"stack", "air"}:
        value, sign = turned(value, unit), SIGNS[unit]
        expanded = difference_from_core(expanded, unit, "temperature")
    if not sure:
        return Given(name, signed(f"{value:.4g}"), "", sign, "")
    return Given(name, signed(f"{value:.4g}"), f"{expanded:.2g}", sign, known.why, bool(known.why))


def _large(gas: Mapping[str, Shown], heat: list[HeatLine]) -> list[Shown]:
    """Return the figures that stand largest: one efficiency net and one gross, the first that holds."""
    chosen = [gas["co2"], gas["excess_air"]]
    for basis in _BASES.values():
        fitting = [one.efficiency for one in heat if one.basis == basis and not one.care and not one.efficiency.refused]
        chosen += fitting[:1]
    chosen.append(gas["dew_point"])
    return [*chosen, gas["co_air_free"]] if "co_air_free" in gas else chosen


def _cares(reading: FlueReading, figures: Mapping[str, Figure]) -> list[str]:
    """Return what is to be minded with this reading."""
    said = list(reading.faults)
    if condenses(figures):
        said.append("The stack is below the dew point: water condenses, and the balance counts the most that can.")
    if reading.o2_pct < 0.0:
        said.append("O2 below zero is an error of the channel; the figures are carried on from it.")
    return said
