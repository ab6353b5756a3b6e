"""One field reading: its figures as a table or as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

import click

from flueproof.cli.flue.asked import DEGREE, celsius, doubt_of, fahrenheit, setting_of
from flueproof.cli.flue.fuels_listed import fuel_named, told_of
from flueproof.cli.words.console import finite, print_json, text_width
from flueproof.cli.words.faults import Refusal
from flueproof.cli.words.table import Table

if TYPE_CHECKING:
    from flueproof.chemistry.field.figures import Figure
    from flueproof.chemistry.field.setting import Setting

READ: Final = ("o2", "co", "stack", "air")
SHOWN_UNIT: Final = {"1": "", "degC": "degC"}


def one_reading(asked: dict[str, Any], *, as_json: bool) -> None:
    """Compute and print the figures of one reading.

    Raises: Refusal, ChemistryError.
    """
    from flueproof.chemistry.field.cautions import cautions_for
    from flueproof.chemistry.field.figures import field_figures
    from flueproof.chemistry.field.looking import look_over

    fuel = fuel_named(asked["fuel"])
    if asked["o2"] is None:
        raise Refusal("--o2", "is missing.", "Everything follows from O2 in the dry flue gas: give it in per cent.")
    readings = {name: asked[name] for name in READ if asked[name] is not None}
    if asked["fahrenheit"]:
        readings = {name: celsius(value) if name in {"stack", "air"} else value for name, value in readings.items()}
    setting = setting_of(fuel, asked, readings.get("air"))
    reasons = look_over(readings).reasons()
    figures = field_figures(setting, readings, doubt_of(asked, readings))
    figures = without_idle_condensation(figures)
    if all(bool(figure.refused) for figure in figures.values()):
        raise Refusal("--o2", " ".join(reasons), "Look for a leak, or for a probe outside the flue; measure again.")
    cautions = cautions_for(figures)
    if as_json:
        print_json(told(setting, readings, figures, asked, reasons, cautions))
    else:
        _show(setting, readings, figures, asked, reasons, cautions)


def without_idle_condensation(figures: Mapping[str, Figure]) -> dict[str, Figure]:
    """Leave out the figures with condensation where nothing condenses: they would say the same twice."""
    wet, dry = figures.get("loss_condensing"), figures.get("loss_net")
    if wet is None or dry is None or not bool((abs(wet.value - dry.value) <= 1e-9).all()):
        return dict(figures)
    return {key: figure for key, figure in figures.items() if "condensing" not in key}


def in_shown_unit(figure: Figure, *, in_fahrenheit: bool) -> tuple[float, float, str]:
    """Return value, standard uncertainty and unit of a figure as a person wants them."""
    value, u = float(figure.value), float(figure.u)
    if figure.unit == "degC" and in_fahrenheit:
        return fahrenheit(value), u * DEGREE, "degF"
    return value, u, "" if figure.unit == "1" else figure.unit


def told(
    setting: Setting,
    readings: Mapping[str, float],
    figures: Mapping[str, Figure],
    asked: Mapping[str, Any],
    reasons: list[str],
    cautions: tuple[str, ...],
) -> dict[str, Any]:
    """Return everything as JSON tells it; temperatures of readings in degC."""
    rows = []
    for figure in figures.values():
        value, u, unit = in_shown_unit(figure, in_fahrenheit=asked["fahrenheit"])
        rows.append(
            {
                "key": figure.key,
                "name": figure.name,
                "value": finite(value),
                "u": finite(u),
                "k": asked["k"],
                "U": finite(asked["k"] * u),
                "unit": unit,
                "basis": figure.basis.in_words(),
                "heat": figure.basis.heat or None,
                "moisture": figure.basis.moisture or None,
                "oxygen_pct": figure.basis.oxygen.pct if figure.basis.oxygen else None,
                "doubtful": bool(figure.doubtful),
                "refused": bool(figure.refused),
            }
        )
    surroundings = {
        "pressure_hpa": setting.pressure_hpa,
        "air_water_share": setting.air.water_share,
        "air_o2_pct": setting.air.o2_pct,
        "reference_o2_pct": setting.reference_o2_pct,
        "radiation_pct_net": setting.radiation_pct,
    }
    return {
        "fuel": told_of(setting.fuel),
        "setting": surroundings,
        "readings": dict(readings),
        "figures": rows,
        "notes": reasons,
        "cautions": list(cautions),
    }


def _show(
    setting: Setting,
    readings: Mapping[str, float],
    figures: Mapping[str, Figure],
    asked: Mapping[str, Any],
    reasons: list[str],
    cautions: tuple[str, ...],
) -> None:
    click.echo(f"{setting.fuel.name} ({setting.fuel.key}; {setting.fuel.source})")
    click.echo(", ".join(_read_in_words(name, value, asked) for name, value in readings.items()) + "\n")
    unsure = any(float(figure.u) > 0.0 for figure in figures.values())
    head = (
        ("figure", "value", f"U, k = {asked['k']:g}", "unit", "basis")
        if unsure
        else ("figure", "value", "unit", "basis")
    )
    table = Table(head, right=(1, 2) if unsure else (1,))
    for figure in figures.values():
        value, expanded, unit = _written(figure, asked)
        cells = (figure.name, value, *((expanded,) if unsure else ()), unit, figure.basis.in_words())
        table.add(cells)
    for line in table.lines():
        click.echo(line)
    if not unsure:
        click.echo(
            "\nNo uncertainty was given (--u-o2, --u-co, --u-stack, --u-air): the figures are as sure as the readings."
        )
    click.echo("")
    for text in (*reasons, *cautions):
        click.echo(textwrap.fill(text, text_width()))


def _read_in_words(name: str, value: float, asked: Mapping[str, Any]) -> str:
    titles = {"o2": "O2", "co": "CO", "stack": "stack", "air": "air"}
    if name in {"stack", "air"}:
        return f"{titles[name]} {fahrenheit(value):g} degF" if asked["fahrenheit"] else f"{titles[name]} {value:g} degC"
    return f"{titles[name]} {value:g} {'%' if name == 'o2' else 'ppm'} dry"


def _written(figure: Figure, asked: Mapping[str, Any]) -> tuple[str, str, str]:
    from flueproof.metrology.rounding import rounded_pair

    value, u, unit = in_shown_unit(figure, in_fahrenheit=asked["fahrenheit"])
    if bool(figure.refused):
        return "-", "-", unit
    mark = " ?" if bool(figure.doubtful) else ""
    if u <= 0.0:
        return f"{value:.4g}{mark}", "-", unit
    written, expanded = rounded_pair(value, asked["k"] * u)
    return f"{written}{mark}", expanded, unit
