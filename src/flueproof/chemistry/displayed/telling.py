"""A finding about a display in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from flueproof.chemistry.displayed.display import COMPUTED, Display
from flueproof.chemistry.displayed.explaining import HEAT_FIGURES, Finding, Supposition, other_basis

if TYPE_CHECKING:
    from flueproof.chemistry.displayed.matching import Match

UNITS: Final = {"co2": "%", "lambda": "", "excess_air": "%", "loss": "%", "efficiency": "%", "co_air_free": "ppm",
                "dew_point": "degC"}  # fmt: skip
LOCAL: Final = "It is information about the formula, and says nothing about the channels: those are judged on gas."


def finding_in_words(display: Display, finding: Finding) -> tuple[str, ...]:
    """Return what a display follows, one sentence each, what matters first.

    Source: own wording.
    """
    said = [_headline(display, finding)]
    said += [
        _follows(display, quantity, finding.follows[quantity]) for quantity in COMPUTED if quantity in finding.follows
    ]
    said += [
        f"{_shown(display, quantity)} follows no formula known here; nearest: {_beside(finding.nearest[quantity])}."
        for quantity in finding.unexplained
        if quantity in finding.nearest
    ]
    left = [COMPUTED[quantity] for quantity in finding.unexplained if quantity not in finding.nearest]
    if left and finding.kind != "cannot":
        said.append(f"Not recomputed, a reading is missing: {', '.join(left)}.")
    if _two_bases(display):
        said.append(
            "Flue loss and efficiency do not add up to 100 %: two bases, or a radiation loss beside the flue's."
        )
    return (*said, LOCAL)


def _headline(display: Display, finding: Finding) -> str:
    fuel = finding.fuel.name if finding.fuel is not None else "no fuel"
    air = display.readings.get("air")
    shown = f"not with the {air.value:g} degC shown" if air is not None else "no air temperature is shown"
    if finding.kind == "as-set":
        return f"The display follows known formulas for {fuel}, with the temperatures shown."
    if finding.kind == "basis":
        named = ", ".join(
            f"{COMPUTED[quantity]} called {display.declared[quantity]}"
            for quantity in other_basis(display, finding.follows)
        )
        return f"The display follows known formulas for {fuel}, but on the other heating value: {named}."
    if finding.kind == "fuel":
        if display.fuel is None:
            return f"No fuel was noted; the display fits {fuel}{_or(finding.also)}."
        return f"The display does not fit {display.fuel.name}; it fits as if {fuel} were set{_or(finding.also)}."
    if finding.kind == "air-zero":
        return f"The display fits with 0 degC as air temperature, {shown}: look for a missing or open air sensor."
    if finding.kind == "air-fixed":
        return f"The display fits with an air temperature of {finding.air_c:g} degC, {shown}: fixed{_or_air(finding)}."
    if finding.kind == "air-other":
        return (
            f"The display would fit with an air temperature of about {finding.air_c:g} degC, {shown}: a stale one, or "
            "another formula."
        )
    if finding.kind == "none":
        return "The display as a whole follows no set of formulas, fuels and air temperatures known here."
    return "Nothing could be recomputed: O2 of a flue gas and the readings that belong to the figure are needed."


def _or(also: tuple[Supposition, ...]) -> str:
    names = list(dict.fromkeys(one.fuel.name for one in also if one.kind == "fuel"))
    return f", or {', or '.join(names[:3])}" if names else ""


def _or_air(finding: Finding) -> str:
    """Stale temperatures that would explain as much as the fixed one."""
    others = sorted(one.air_c for one in finding.also if one.kind == "air-other" and one.air_c is not None)
    if not others:
        return ""
    return f", or a stale one of {others[0]:g}" + (f" to {others[-1]:g} degC" if len(others) > 1 else " degC")


def _follows(display: Display, quantity: str, told: tuple[Match, ...]) -> str:
    first, *rest = told
    more = f"; at this display step not told apart from: {'; '.join(one.words for one in rest)}" if rest else ""
    return f"{_shown(display, quantity)} follows {_beside(first)}{more}."


def _shown(display: Display, quantity: str) -> str:
    unit = UNITS[quantity]
    name = COMPUTED[quantity][0].upper() + COMPUTED[quantity][1:]
    return f"{name} {display.computed[quantity].value:g}{' ' if unit else ''}{unit}".strip()


def _beside(one: Match) -> str:
    return f"{one.words} ({one.computed:.4g})"


def _two_bases(display: Display) -> bool:
    if not set(display.computed) >= HEAT_FIGURES:
        return False
    loss, left = display.computed["loss"], display.computed["efficiency"]
    return abs(loss.value + left.value - 100.0) > 0.5 * (loss.step + left.step) + 1e-9
