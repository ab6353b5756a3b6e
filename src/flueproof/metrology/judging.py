"""Judge test points: one of them or a million, by the same code.

Points pass in blocks that fit the processor's cache; each block goes through the budget, the factor, the guard
band, the statement and its risk before the next one is touched.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.combining import combine
from flueproof.metrology.conformity import guard_band, statement_codes, statement_codes_between
from flueproof.metrology.coverage import LEVEL
from flueproof.metrology.decision.inputs import finite_array, positive_limit
from flueproof.metrology.decision.student import student_factors, student_tails
from flueproof.metrology.errors import ConformityInputError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import ArrayLike, NDArray

    from flueproof.metrology.conformity import DecisionRule

    FloatArray = NDArray[np.float64]
    CodeArray = NDArray[np.int8]

BLOCK = 4096


@dataclass(frozen=True, slots=True, eq=False)
class PointJudgements:
    """What is said of each point; arrays of shape (points,).

    u, expanded, guard [unit of the errors]; dof, k, p_conform, specific_risk, tur [-]; codes: 1 conform,
    0 undecided, -1 not conform. p_conform: probability that the true error is within its limit. specific_risk: of a
    conforming or undecided point the probability that it is truly outside (the risk of accepting it), of one that
    does not conform the probability that it is truly inside.
    Source: JCGM 106:2012, 7.3, 7.4 and 9.3.
    """

    u: FloatArray
    dof: FloatArray
    k: FloatArray
    expanded: FloatArray
    guard: FloatArray
    codes: CodeArray
    p_conform: FloatArray
    specific_risk: FloatArray
    tur: FloatArray


def judge_points(
    errors: ArrayLike,
    contributions: ArrayLike,
    dof: ArrayLike,
    limits: ArrayLike,
    rule: DecisionRule,
    *,
    correlation: ArrayLike | None = None,
    level: float = LEVEL,
    one_sided: bool = False,
) -> PointJudgements:
    """Judge points against their limits.

    errors: reading minus reference [unit], shape (points,); contributions: sensitivity times standard uncertainty
    [unit], shape (points, lines); dof: degrees of freedom of the lines [-], shape (lines,) or (points, lines);
    limits: largest allowed error [unit], positive, shape (points,) or one for all; correlation: of the lines [-],
    shape (lines, lines), None for independent ones; level: probability covered by U [-]; one_sided: only errors
    above the limit are outside (dilution).
    Returns: PointJudgements; factors good to 1e-6 relative, probabilities to 4e-7 absolute.
    Raises: ConformityInputError, and what combine raises.
    Source: JCGM 100:2008, 5.1.2 and G.4.1; JCGM 106:2012, 7 to 9.
    """
    values, lines, bounds = _aligned(errors, contributions, limits)
    said, freedom = _empty(values.size), np.asarray(dof, dtype=np.float64)
    if freedom.ndim == 2 and freedom.shape != lines.shape:
        raise ConformityInputError(f"degrees of freedom for each point need shape {lines.shape}; got {freedom.shape}")
    for part in _blocks(values.size):
        own = freedom[part] if freedom.ndim == 2 else freedom
        _judge_block(said, part, values[part], lines[part], own, bounds[part], rule, correlation, level, one_sided)
    return said


def _judge_block(
    said: PointJudgements,
    part: slice,
    error: FloatArray,
    lines: FloatArray,
    line_dof: FloatArray,
    limit: FloatArray,
    rule: DecisionRule,
    correlation: ArrayLike | None,
    level: float,
    one_sided: bool,  # noqa: FBT001 - private
) -> None:
    u, dof = combine(lines, line_dof, correlation)
    k = student_factors(level).at(dof)
    expanded = k * u
    if rule.name == "specific-2":
        guard = student_factors(1.0 - 2.0 * rule.max_risk).at(dof) * u
    else:
        guard = np.asarray(guard_band(rule, limit, u, dof, k))
    codes = statement_codes_between(error, None, limit, guard) if one_sided else statement_codes(error, limit, guard)
    outside = _outside_probability(error, u, dof, limit, one_sided=one_sided)
    said.u[part], said.dof[part], said.k[part], said.expanded[part] = u, dof, k, expanded
    said.guard[part], said.codes[part] = guard, codes
    inside = np.subtract(1.0, outside, out=said.p_conform[part])
    said.specific_risk[part] = np.where(codes < 0, inside, outside)
    with np.errstate(divide="ignore"):
        np.divide(limit, expanded, out=said.tur[part])


def _outside_probability(
    error: FloatArray, u: FloatArray, dof: FloatArray, limit: FloatArray, *, one_sided: bool
) -> FloatArray:
    magnitude = error if one_sided else np.abs(error)
    room = limit - magnitude
    if u.all():
        outside = student_tails(room / u, dof)
        if not one_sided:
            outside += student_tails((limit + magnitude) / u, dof)
        return outside
    known = u == 0.0
    outside = _outside_probability(error, np.where(known, 1.0, u), dof, limit, one_sided=one_sided)
    outside[known] = room[known] < 0.0
    return outside


def _aligned(
    errors: ArrayLike, contributions: ArrayLike, limits: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    values = finite_array(errors, "error")
    lines = np.asarray(contributions, dtype=np.float64)
    if values.ndim != 1 or lines.ndim != 2 or lines.shape[0] != values.size or lines.shape[1] == 0:
        raise ConformityInputError(
            "errors must have shape (points,) and contributions (points, lines) with at least one line; "
            f"got {values.shape} and {lines.shape}"
        )
    bounds = positive_limit(limits)
    if bounds.shape not in ((), values.shape):
        raise ConformityInputError(f"limits must be one for all or shape {values.shape}; got {bounds.shape}")
    return values, lines, np.broadcast_to(bounds, values.shape)


def _blocks(points: int) -> Iterator[slice]:
    return (slice(start, min(start + BLOCK, points)) for start in range(0, points, BLOCK))


def _empty(points: int) -> PointJudgements:
    return PointJudgements(
        u=np.empty(points),
        dof=np.empty(points),
        k=np.empty(points),
        expanded=np.empty(points),
        guard=np.empty(points),
        codes=np.empty(points, dtype=np.int8),
        p_conform=np.empty(points),
        specific_risk=np.empty(points),
        tur=np.empty(points),
    )
