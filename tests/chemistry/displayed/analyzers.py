"""Invented analyzers for these tests: what a display shows that computes in a given way, rounded as displays round."""

from flueproof.chemistry.displayed.display import Display, Shown
from flueproof.chemistry.field.figures import field_figures
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import shipped_fuel

STEPS = {"o2": 0.1, "co": 1.0, "stack": 1.0, "air": 1.0, "co2": 0.1, "excess_air": 1.0, "efficiency": 0.1, "loss": 0.1,
         "co_air_free": 1.0, "lambda": 0.01, "dew_point": 1.0}  # fmt: skip
FORMULAS = {
    "co2": "co2",
    "excess_air": "excess_air",
    "efficiency": "efficiency_german",
    "co_air_free": "co_air_free",
}


def shown(name, value):
    step = STEPS[name]
    return Shown(round(round(float(value) / step) * step, 6), step)


def display_of(reading, *, fuel="natural-gas-us", set_to=None, air_used=None, formulas=None, declared=None, drop=()):
    """fuel: whose constants the analyzer computes with; set_to: what its display says, "" for nobody noted it."""
    used = {**reading, "air": reading["air"] if air_used is None else air_used}
    figures = field_figures(Setting(shipped_fuel(fuel)), used)
    computed = {name: shown(name, figures[key].value) for name, key in (formulas or FORMULAS).items()}
    noted = fuel if set_to is None else set_to
    readings = {name: shown(name, value) for name, value in reading.items() if name not in drop}
    return Display(readings, computed, shipped_fuel(noted) if noted else None, declared or {})
