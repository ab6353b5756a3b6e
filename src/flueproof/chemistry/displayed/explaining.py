"""What the figures of a display follow, all together, and what fits where they do not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from flueproof.chemistry.displayed.display import COMPUTED, Display
from flueproof.chemistry.displayed.matching import Match, matches
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import shipped_fuels

if TYPE_CHECKING:
    from flueproof.chemistry.fuels.fuel import Fuel

Kind = Literal["as-set", "basis", "air-zero", "fuel", "air-fixed", "air-other", "none", "cannot"]
Told = dict[str, list[Match]]
FIXED_AIR_C: Final = (20.0, 25.0)
COLDEST_AIR_C, HOTTEST_AIR_C = -30.0, 60.0
HEAT_FIGURES: Final = frozenset({"loss", "efficiency"})


@dataclass(frozen=True, slots=True)
class Supposition:
    """A way to read the display: fuel, and combustion air to use instead of the one shown [degC], None for that."""

    kind: Kind
    fuel: Fuel
    air_c: float | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """What a display follows.

    kind: `as-set` with the fuel and the air shown; `basis` all follow, one on another basis than the display names;
    `air-zero`, `air-fixed`, `air-other` with another air temperature (air_c [degC]); `fuel` with another fuel;
    `none`; `cannot` where a reading is missing. follows: per computed figure the conventions that fit, best first;
    nearest: per figure the closest one, fitting or not; unexplained: figures that nothing explains; also: other
    suppositions that explain as much.
    """

    kind: Kind
    fuel: Fuel | None
    air_c: float | None
    follows: Mapping[str, tuple[Match, ...]]
    nearest: Mapping[str, Match]
    unexplained: tuple[str, ...]
    also: tuple[Supposition, ...] = ()


def examine_display(display: Display) -> Finding:
    """Return which conventions the computed figures of a display follow, or what fits instead.

    One change at a time is supposed, the likeliest first: nothing; 0 degC taken as air (no sensor in the socket);
    another fuel set; air fixed at 20 or 25 degC; some other air temperature (a stale one). A supposition counts only
    if it explains every figure that can be recomputed. It is a reading of figures, no proof: several may fit.
    Raises: ChemistryError for a fuel that nothing follows from.
    Source: own rules.
    """
    asked: list[tuple[Supposition, Told]] = []
    for one in _suppositions(display):
        told = _follow(display, one)
        if told:
            asked.append((one, told))
        if one.kind == "as-set" and told and all(map(_fitting, told.values())) and _asks_all(display, told):
            break
    if not asked:
        return Finding("cannot", display.fuel, None, {}, {}, tuple(display.computed))
    wanted = {quantity for _, found in asked for quantity in found}
    whole = [(one, found) for one, found in asked if all(_fitting(found.get(quantity, [])) for quantity in wanted)]
    if not whole:
        first = asked[0][1] if asked[0][0].kind == "as-set" else _best(asked)
        return _none(display, first, wanted)
    chosen, found = whole[0]
    follows = {quantity: _fitting(found[quantity]) for quantity in found}
    as_set = chosen.kind == "as-set"
    return Finding(
        kind="basis" if as_set and other_basis(display, follows) else chosen.kind,
        fuel=chosen.fuel,
        air_c=chosen.air_c,
        follows=follows,
        nearest={quantity: told[0] for quantity, told in found.items()},
        unexplained=tuple(quantity for quantity in display.computed if quantity not in wanted),
        also=() if as_set else tuple(dict.fromkeys(one for one, _ in whole[1:] if one != chosen)),
    )


def other_basis(display: Display, follows: Mapping[str, tuple[Match, ...]]) -> tuple[str, ...]:
    """Return the figures that the display calls net or gross and that follow the other basis alone.

    Source: own rule.
    """
    return tuple(
        quantity
        for quantity, told in follows.items()
        if quantity in display.declared and all(one.heat != display.declared[quantity] for one in told)
    )


def _suppositions(display: Display) -> Iterator[Supposition]:
    fuels = [display.fuel] if display.fuel is not None else []
    others = [fuel for fuel in shipped_fuels().values() if display.fuel is None or fuel.key != display.fuel.key]
    heat = bool(HEAT_FIGURES & set(display.computed))
    shown = display.readings.get("air")
    for fuel in fuels:
        yield Supposition("as-set", fuel)
        if heat and (shown is None or abs(shown.value) > 0.5):
            yield Supposition("air-zero", fuel, 0.0)
    for fuel in others:
        yield Supposition("fuel", fuel)
    for fuel in fuels:
        if heat:
            for fixed in FIXED_AIR_C:
                if shown is None or abs(shown.value - fixed) > 0.5:
                    yield Supposition("air-fixed", fuel, fixed)
            yield from _other_air(display, fuel)


def _other_air(display: Display, fuel: Fuel) -> Iterator[Supposition]:
    """Air temperatures with which a loss or efficiency would be what is shown, one per convention."""
    setting = Setting(fuel)
    quantity = "efficiency" if "efficiency" in display.computed else "loss"
    shown = display.readings.get("air")
    start = shown.value if shown is not None else 20.0
    there = {one.key: one for one in matches(display, setting, quantity, air_c=start)}
    for colder in matches(display, setting, quantity, air_c=start - 5.0):
        here = there.get(colder.key)
        if here is None or here.computed == colder.computed:
            continue
        air = start + here.difference / ((here.computed - colder.computed) / 5.0)
        if COLDEST_AIR_C <= air <= HOTTEST_AIR_C and abs(air - start) > 0.5:
            yield Supposition("air-other", fuel, round(air, 1))


def _follow(display: Display, one: Supposition) -> Told:
    setting = Setting(one.fuel)
    found = {quantity: matches(display, setting, quantity, air_c=one.air_c) for quantity in display.computed}
    return {quantity: told for quantity, told in found.items() if told}


def _asks_all(display: Display, told: Told) -> bool:
    """Whether another supposition could ask for more: it can where the air was not shown."""
    return set(told) == set(display.computed) or "air" in display.readings


def _fitting(told: list[Match] | tuple[Match, ...]) -> tuple[Match, ...]:
    return tuple(one for one in told if one.fits)


def _best(asked: list[tuple[Supposition, Told]]) -> Told:
    return max((found for _, found in asked), key=lambda found: sum(bool(_fitting(told)) for told in found.values()))


def _none(display: Display, found: Told, wanted: set[str]) -> Finding:
    follows = {quantity: fits for quantity, told in found.items() if (fits := _fitting(told))}
    nearest = {quantity: told[0] for quantity, told in found.items()}
    lost = tuple(quantity for quantity in COMPUTED if quantity in wanted and quantity not in follows)
    return Finding("none", display.fuel, None, follows, nearest, lost)
