"""Which statements change. A corrected value may raise an alarm; it never clears an appliance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.impact.correcting.corrected import Corrected
from flueproof.impact.correcting.over_time import OverTime
from flueproof.impact.correcting.readings import FloatArray
from flueproof.impact.statements.limits import Limit

CHANGES = (
    "now-outside",
    "unknown",
    "now-open",
    "still-outside",
    "lower-not-cleared",
    "same",
    "not-concerned",
    "not-written",
    "not-compared",
)
"""What can have become of a statement, the most dangerous first."""
RANK = {name: rank for rank, name in enumerate(CHANGES)}
INPUTS = {
    "co_air_free_ppm": ("co_ppm", "o2_pct"),
    "excess_air_pct": ("o2_pct",),
    "loss_pct": ("o2_pct", "stack_c", "air_c"),
    "efficiency_pct": ("o2_pct", "stack_c", "air_c"),
    "own_efficiency_pct": ("own_efficiency_pct", "o2_pct", "stack_c", "air_c"),
}
DANGER = frozenset({"now-outside", "unknown", "now-open"})


@dataclass(frozen=True, slots=True)
class LimitChange:
    """One limit over one log.

    by_course: places in CHANGES, shape (n,), per course of the error; worst: the most dangerous of the courses, shape
    (n,); beyond: how far the corrected value lies beyond the limit in the worst course, as a share of it, shape (n,),
    nan where there is none.
    """

    limit: Limit
    by_course: dict[str, NDArray[np.int8]]
    worst: NDArray[np.int8]
    beyond: FloatArray


def changes_of(limit: Limit, corrected: Corrected) -> NDArray[np.int8]:
    """Return what becomes of each statement under one course, as places in CHANGES, shape (n,).

    Shown values are compared as the owner did, without uncertainty; where the formula gives none (nearly air in the
    sample) nothing was ever shown to be inside. A corrected value is outside or inside only where
    its whole 95 % interval is; otherwise it is open. A value that was outside stays on the list whatever comes out.
    """
    side = limit.dangerous_side
    shown, estimate = corrected.shown[limit.quantity], corrected[limit.quantity]
    was_outside = side * (shown - limit.value) > 0.0
    near = estimate.low if side > 0 else estimate.high
    far = estimate.high if side > 0 else estimate.low
    surely_outside = side * (near - limit.value) > 0.0
    surely_inside = side * (far - limit.value) <= 0.0
    change = np.full(shown.size, RANK["now-open"], dtype=np.int8)
    change[surely_outside] = RANK["now-outside"]
    change[surely_inside] = RANK["same"]
    change[was_outside] = RANK["still-outside"]
    change[was_outside & surely_inside] = RANK["lower-not-cleared"]
    change[~np.isfinite(estimate.value)] = RANK["unknown"]
    change[np.isnan(shown) & (change == RANK["same"])] = RANK["unknown"]
    change[~_written(limit.quantity, corrected)] = RANK["not-written"]
    return change


def _written(quantity: str, corrected: Corrected) -> NDArray[np.bool_]:
    """Whether the log holds what a quantity is computed from; a sample of nearly air is written and says nothing."""
    inputs = [getattr(corrected.readings, name) for name in INPUTS.get(quantity, (quantity,))]
    return np.asarray(np.logical_and.reduce([np.isfinite(one) for one in inputs]), dtype=np.bool_)


def statement_changes(limit: Limit, over_time: OverTime) -> LimitChange:
    """Return what becomes of the statements against one limit under every course, and the most dangerous of them."""
    courses = over_time.courses()
    by_course = {name: changes_of(limit, one) for name, one in courses.items()}
    for change in by_course.values():
        change[~over_time.concerned & (change != RANK["not-written"])] = RANK["not-concerned"]
    worst = np.minimum.reduce(list(by_course.values()))
    side = limit.dangerous_side
    beyond = np.full(worst.size, -np.inf)
    for name, change in by_course.items():
        own = side * (courses[name][limit.quantity].value - limit.value) / max(abs(limit.value), 1e-9)
        beyond = np.where((change == worst) & (np.nan_to_num(own, nan=-np.inf) > beyond), own, beyond)
    return LimitChange(limit, by_course, worst, np.where(np.isfinite(beyond), beyond, np.nan))
