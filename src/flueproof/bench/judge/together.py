"""All counting points together: they share bottles and instruments, so "all conform" is a joint probability."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from flueproof.bench.judgement import PointJudgement
from flueproof.metrology.joint import joint_conformance, shared_covariance


def joint_statement(points: Sequence[PointJudgement]) -> dict[str, Any]:
    """Return the probability that all points conform, with the covariance of shared references taken along [-].

    Points without a number (a bound, no reading) conform or not by themselves: one that does not makes it 0.
    Source: JCGM 106:2012, 7 for one point; JCGM 100:2008, F.1.2.3 for the covariance.
    """
    usable = [point for point in points if math.isfinite(point.error) and point.caveat is None and point.u > 0]
    bounded = [point for point in points if point not in usable]
    if any(point.statement == "not-conform" for point in bounded):
        return {"points": len(points), "p_all_conform": 0.0, "p_if_independent": 0.0}
    if not usable:
        return {"points": len(points), "p_all_conform": None, "p_if_independent": None}
    width = max(len(point.budget) for point in usable)
    lines = np.zeros((len(usable), width))
    shared: list[list[str | None]] = []
    for row, point in enumerate(usable):
        lines[row, : len(point.budget)] = [line.u for line in point.budget]
        tags: list[str | None] = [line.shared and f"{line.shared}/{point.channel}" for line in point.budget]
        shared.append(tags + [None] * (width - len(tags)))
    covariance = shared_covariance(lines, shared)
    errors = np.array([point.error for point in usable])
    limits = np.array([point.limit for point in usable])
    result = joint_conformance(errors, covariance, limits)
    return {
        "points": len(points),
        "p_all_conform": float(result.probability),
        "p_if_independent": float(np.prod([point.p_conform for point in usable])),
    }
