"""From judged temperature points to the error of a temperature channel, with what the references have in common."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from flueproof.bench.judgement import PointJudgement
from flueproof.impact.found.temperature import FloatArray, TemperatureError

CERTIFICATE = "reference certificate"
SAME_POINT_K = 2.0
"""Points this near each other are one point with repeats; own choice."""


def usable_points(points: Sequence[PointJudgement], channel: str) -> list[PointJudgement]:
    """Return the points of a temperature channel that say something of the owner's own sensor.

    A test at the socket counts only where no probe came, as the judge has it.
    """
    return [
        point
        for point in points
        if point.channel == channel and point.counts and point.caveat is None and math.isfinite(point.error)
    ]


def temperature_errors(
    stack: Sequence[PointJudgement], air: Sequence[PointJudgement]
) -> tuple[TemperatureError | None, TemperatureError | None, FloatArray | None]:
    """Return the errors of stack and air, and the covariance between their points (stack, air) [K2].

    Lines of two budgets with one name and one common cause are one error: a thermometer that reads 0.2 K high does so
    at every point.
    """
    everything = [*stack, *air]
    if not everything:
        return None, None, None
    covariance = _covariance(everything)
    mean_stack, mean_air = _means(stack), _means(air)
    inner = len(stack)
    found_stack = _error(stack, mean_stack, covariance[:inner, :inner])
    found_air = _error(air, mean_air, covariance[inner:, inner:])
    between = mean_stack @ covariance[:inner, inner:] @ mean_air.T
    return found_stack, found_air, between if found_stack and found_air and np.any(between) else None


def _covariance(points: Sequence[PointJudgement]) -> FloatArray:
    matrix = np.zeros((len(points), len(points)))
    for row, one in enumerate(points):
        matrix[row, row] = sum(line.u**2 for line in one.budget)
        for column, other in enumerate(points[:row]):
            matrix[row, column] = matrix[column, row] = _common_variance(one, other)
    return matrix


def _common_variance(one: PointJudgement, other: PointJudgement) -> float:
    """What two points owe to one certificate [K2]; the spread of a source is another one at every setting."""
    theirs = {line.shared: line.u for line in other.budget if line.name == CERTIFICATE and line.shared is not None}
    return sum(line.u * theirs.get(line.shared, 0.0) for line in one.budget if line.name == CERTIFICATE and line.shared)


def _means(points: Sequence[PointJudgement]) -> FloatArray:
    """The matrix that takes means of points that lie together, in rising order, shape (groups, points)."""
    order = sorted(range(len(points)), key=lambda place: points[place].settled)
    groups: list[list[int]] = []
    for place in order:
        if groups and points[place].settled - points[groups[-1][-1]].settled <= SAME_POINT_K:
            groups[-1].append(place)
        else:
            groups.append([place])
    matrix = np.zeros((len(groups), len(points)))
    for row, group in enumerate(groups):
        matrix[row, group] = 1.0 / len(group)
    return matrix


def _error(points: Sequence[PointJudgement], means: FloatArray, covariance: FloatArray) -> TemperatureError | None:
    if not points:
        return None
    shown = means @ np.array([point.settled for point in points])
    error = means @ np.array([point.error for point in points])
    return TemperatureError(shown, error, means @ covariance @ means.T)
