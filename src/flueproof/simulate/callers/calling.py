"""A population of calls: an analyzer with a planted cause, what the caller says of it, what the bench measures."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.callers import planting_cells, planting_others, planting_path
from flueproof.simulate.callers.answering import answers_of, complaint_of
from flueproof.simulate.callers.bench_seen import bench_values
from flueproof.simulate.callers.draft_of_call import SUMMER, WINTER, Draft, healthy
from flueproof.simulate.callers.figures import figure, figures_of
from flueproof.simulate.callers.scene import LEAKS, Scene
from flueproof.simulate.callers.seen_others import true_facts
from flueproof.simulate.errors import SimulationError
from flueproof.simulate.truth import Truth

PLANTS: Final[Mapping[str, Callable[[Draft], None]]] = {
    **{cause: planting_path.leak(cause) for cause in LEAKS},
    "leak-inside": planting_path.leak_inside,
    "filter-clogged": planting_path.filter_clogged,
    "trap-full": planting_path.trap_full,
    "probe-tube-sooted": planting_path.probe_tube_sooted,
    "pump-worn": planting_path.pump_worn,
    "water-inside": planting_path.water_inside,
    "exhaust-blocked": planting_path.exhaust_blocked,
    "o2-cell-spent": planting_cells.o2_cell_spent,
    "o2-cell-ageing": planting_cells.o2_cell_ageing,
    "co-cell-weak": planting_cells.co_cell_weak,
    "co-cell-zero": planting_cells.co_cell_zero,
    "co-overrange": planting_cells.co_overrange,
    "cell-slow": planting_cells.cell_slow,
    "co-filter-spent": planting_cells.co_filter_spent,
    "h2-on-co": planting_cells.h2_on_co,
    "no-cell-bias-lost": planting_cells.no_cell_bias_lost,
    "filtered-unit": planting_cells.filtered_unit,
    "tolerance": planting_cells.tolerance,
    "bad-bottle": planting_cells.bad_bottle,
    "zeroed-in-co": planting_cells.zeroed_in_co,
    "room-co": planting_cells.room_co,
    "humid-zero": planting_cells.humid_zero,
    "thermocouple-bent": planting_others.thermocouple_bent,
    "thermocouple-placed": planting_others.thermocouple_placed,
    "thermocouple-open": planting_others.thermocouple_open,
    "thermocouple-reversed": planting_others.thermocouple_reversed,
    "cold-junction": planting_others.cold_junction,
    "air-sensor": planting_others.air_sensor,
    "draft-zero": planting_others.draft_zero,
    "draft-sensor": planting_others.draft_sensor,
    "draft-blocked": planting_others.draft_blocked,
    "draft-unit": planting_others.draft_unit,
    "battery-worn": planting_others.battery_worn,
    "charger-dead": planting_others.charger_dead,
    "cold-unit": planting_others.cold_unit,
    "altitude": planting_others.altitude,
    "wrong-fuel": planting_others.wrong_fuel,
}
"""What plants each cause. Causes go by the words of the team's case vignettes."""

PATH: Final = (*LEAKS, "leak-inside", "filter-clogged")
PAIRED_WITH: Final = ("co-cell-weak", "co-cell-zero", "o2-cell-ageing", "thermocouple-bent", "wrong-fuel", "draft-zero")
"""A second cause is one of these, beside a first one of PATH."""
PROFILES: Final = ("two-cell-residential", "hydrogen-compensated-co", "three-cell-light-commercial")
PROFILE_SHARES: Final = (0.65, 0.2, 0.15)


@dataclass(frozen=True, slots=True)
class Call:
    """One call and what is behind it.

    ages: months since each cell was made; causes: one, or two where two things are wrong; right: the right answers by
    question; said: what this caller answers, what they cannot tell is absent; bench: what the bench would measure.
    """

    number: int
    profile: str
    month: int
    ages: Mapping[str, int]
    causes: tuple[str, ...]
    truth: Truth
    scene: Scene
    complaint: str
    right: Mapping[str, Any]
    said: Mapping[str, Any]
    bench: Mapping[str, Any]


def draw_calls(count: int, seed: int, *, causes: Mapping[str, float] | None = None) -> Iterator[Call]:
    """Yield random calls; call i is the same whatever the count.

    count: how many; seed: all chance of all calls; causes: weights of first causes, those of figures.toml (by age of
    cells and month) when None; given weights are used as they are, and no second cause is drawn.
    Raises: SimulationError for an unknown cause, no weight, or a negative count.
    Source: figures.toml, our own assumptions; what is seen and measured by the simulated physics.
    """
    if count < 0 or (causes is not None and (set(causes) - set(PLANTS) or sum(causes.values()) <= 0)):
        raise SimulationError(f"need count >= 0 and causes out of {', '.join(PLANTS)}; got {count}, {causes}")
    for number in range(count):
        yield draw_call(number, seed, causes)


def draw_call(number: int, seed: int, causes: Mapping[str, float] | None = None) -> Call:
    """Return call `number` of a seed. Source: as `draw_calls`."""
    generator = np.random.default_rng([seed, number])
    profile = _profile(str(generator.choice(PROFILES, p=PROFILE_SHARES)))
    ages, month = _ages(profile, generator), int(generator.integers(1, 13))
    chosen = _causes(causes, ages, month, profile, generator)
    draft = healthy(generator, ages, month)
    for cause in chosen:
        PLANTS[cause](draft)
    draft.scene["bottle_fed"] = draft.any_of("tee", "tee", "straight-on")
    truth, scene = Truth(**draft.truth), Scene(**draft.scene)
    right = true_facts(truth, scene, profile)
    return Call(
        number,
        profile.name,
        month,
        ages,
        chosen,
        truth,
        scene,
        complaint_of(right, chosen, generator),
        right,
        answers_of(right, (seed, number)),
        bench_values(truth, scene, generator),
    )


@functools.cache
def _profile(name: str) -> Profile:
    return shipped_profile(name)


def _ages(profile: Profile, generator: np.random.Generator) -> dict[str, int]:
    o2 = int(generator.integers(1, 35))
    others = [name for name in ("co", "no") if name in profile.channels]
    return {"o2": o2} | {name: o2 if generator.uniform() < 0.5 else int(generator.integers(1, 72)) for name in others}


def _causes(
    given: Mapping[str, float] | None,
    ages: Mapping[str, int],
    month: int,
    profile: Profile,
    generator: np.random.Generator,
) -> tuple[str, ...]:
    weights = dict(given) if given is not None else weights_of(ages, month)
    if "no" not in profile.channels and given is None:
        weights.pop("no-cell-bias-lost")
    total = sum(weights.values())
    first = str(generator.choice(list(weights), p=[weight / total for weight in weights.values()]))
    share_of_path = _of_path(weights) / total if given is None else 1.0
    if given is None and first in PATH and generator.uniform() < figure("shares.two_at_once") / share_of_path:
        return first, str(generator.choice(PAIRED_WITH))
    return (first,)


def _of_path(weights: Mapping[str, float]) -> float:
    return sum(weights[cause] for cause in PATH)


def weights_of(ages: Mapping[str, int], month: int) -> dict[str, float]:
    """Return the weight of each first cause, given the age of the cells [months] and the month (1 to 12).

    Source: figures.toml, our own assumptions.
    """
    weights = figures_of("causes")
    factors = [
        ("old_o2_cell", ages["o2"] > figure("old_o2_cell.months")),
        ("old_co_cell", ages.get("co", 0) > figure("old_co_cell.months")),
        ("winter", month in WINTER),
        ("summer", month in SUMMER),
    ]
    for group, holds in factors:
        if holds:
            for cause, factor in figures_of(group).items():
                if cause in weights:
                    weights[cause] *= factor
    return weights
