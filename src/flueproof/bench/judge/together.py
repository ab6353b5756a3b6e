"""All counting points together: they share bottles and instruments, so "all conform" is a joint probability."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from flueproof.analyzer.gas_path.products import SUPPLIER_SHARE
from flueproof.bench.judgement import PointJudgement
from flueproof.metrology.joint import joint_conformance, shared_covariance


def joint_statement(points: Sequence[PointJudgement], suppliers: Mapping[str, str]) -> dict[str, Any]:
    """Return the probability that all points conform, with the covariance of shared references taken along [-].

    suppliers: who certified a reference, by its key; bottles of one supplier share a part of their variance.
    Points without a number (a bound, no reading) conform or not by themselves: one that does not makes it 0, one
    that cannot be decided leaves it open (None).
    Source: JCGM 106:2012, 7 for one point; JCGM 100:2008, F.1.2.3 for the covariance.
    """
    usable = [point for point in points if math.isfinite(point.error) and point.caveat is None and point.u > 0]
    bounded = [point for point in points if point not in usable]
    if any(point.statement == "not-conform" for point in bounded):
        return {"points": len(points), "p_all_conform": 0.0, "p_if_independent": 0.0}
    if not usable or any(point.statement == "undecided" for point in bounded):
        return {"points": len(points), "p_all_conform": None, "p_if_independent": None}
    causes = [_causes(point, suppliers) for point in usable]
    width = max(len(one) for one in causes)
    lines = np.zeros((len(usable), width))
    shared: list[list[str | None]] = []
    for row, one in enumerate(causes):
        lines[row, : len(one)] = [u for u, _ in one]
        shared.append([tag for _, tag in one] + [None] * (width - len(one)))
    covariance = shared_covariance(lines, shared)
    errors = np.array([point.error for point in usable])
    limits = np.array([point.limit for point in usable])
    result = joint_conformance(errors, covariance, limits)
    return {
        "points": len(points),
        "p_all_conform": float(result.probability),
        "p_if_independent": float(np.prod([point.p_conform for point in usable])),
    }


def _causes(point: PointJudgement, suppliers: Mapping[str, str]) -> list[tuple[float, str | None]]:
    """Split each shared line into the bottle's own part and the part common to its supplier.

    A reference's certificate and the spread of its source are two causes; two channels of one gas share its bottle.
    """
    causes: list[tuple[float, str | None]] = []
    quantity = point.channel.split("_", maxsplit=1)[0]
    for line in point.budget:
        if line.shared is None:
            causes.append((line.u, None))
            continue
        supplier = suppliers.get(line.shared)
        common = SUPPLIER_SHARE if supplier is not None else 0.0
        causes.append((line.u * math.sqrt(1.0 - common), f"{line.shared}/{quantity}/{line.name}"))
        if supplier is not None:
            causes.append((line.u * math.sqrt(common), f"supplier {supplier}/{quantity}"))
    return causes
