"""Is a channel straight over its test gases, and what setting follows if it is?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.decision.inputs import positive_limit
from flueproof.metrology.errors import LineInputError
from flueproof.metrology.functions import special
from flueproof.metrology.lines.both_axes import BothAxesLine, covariance_matrix, line_in_both_axes

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

LARGEST_RESIDUAL = 2.0


@dataclass(frozen=True, slots=True, eq=False)
class LinearityCheck:
    """A line through test gases with two judgements of whether they lie on one.

    fit: the line, reading against reference; chi_square: misfit left over [-]; critical: its limit at the level
    chosen [-]; probability: of a larger misfit by chance alone [-]; largest_residual: largest distance of a point
    from its place on the line, in either axis, over its standard uncertainty [-]; at: position of that point;
    straight: chi_square <= critical and largest_residual <= 2; deviations: reading minus line [unit], shape (points,).
    """

    fit: BothAxesLine
    chi_square: float
    critical: float
    probability: float
    largest_residual: float
    at: int
    straight: bool
    deviations: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """Errors before and after reading = a + b reference is undone, at the references asked for.

    gain, offset: corrected = (reading - offset)/gain, gain [-], offset [unit]; before, after: error of the line, zero
    after [unit]; u_after: standard uncertainty that the correction itself leaves [unit], shape (points,).
    """

    gain: float
    offset: float
    before: FloatArray
    after: FloatArray
    u_after: FloatArray


def check_linearity(
    reference: ArrayLike, reading: ArrayLike, u_reference: ArrayLike, u_reading: ArrayLike, level: float = 0.95
) -> LinearityCheck:
    """Return whether readings on three or more test gases lie on one straight line within their uncertainty.

    reference, reading [unit], shape (gases,); u_reference, u_reading: standard uncertainties [unit], one for all or
    (gases,), or covariances [unit squared], (gases, gases); level: of the chi-square test [-].
    Raises: LineInputError.
    Source: ISO/TS 28037:2010, 7.3 (chi-square); ISO 6143:2001, B.2 (largest weighted residual at most 2).
    """
    if not 0.0 < level < 1.0:
        raise LineInputError(f"the level of the test lies between 0 and 1; got {level!r}")
    fit = line_in_both_axes(reference, reading, u_reference, u_reading)
    xs, ys = np.asarray(reference, dtype=np.float64), np.asarray(reading, dtype=np.float64)
    moved = np.stack([xs - fit.x_adjusted, ys - fit.y_adjusted])
    spread = np.sqrt(np.stack([np.diag(covariance_matrix(u, xs.size)) for u in (u_reference, u_reading)]))
    residuals = np.max(np.abs(moved) / np.where(spread > 0.0, spread, np.inf), axis=0)
    chi_square, freedom = float(fit.line.chi_square or 0.0), fit.line.residual_dof
    critical, largest = float(special.chdtri(freedom, 1.0 - level)), float(np.max(residuals))
    return LinearityCheck(
        fit=fit,
        chi_square=chi_square,
        critical=critical,
        probability=float(special.chdtrc(freedom, chi_square)),
        largest_residual=largest,
        at=int(np.argmax(residuals)),
        straight=chi_square <= critical and largest <= LARGEST_RESIDUAL,
        deviations=ys - fit.line.intercept - fit.line.slope * xs,
    )


def correction_from(check: LinearityCheck, reference: ArrayLike) -> Correction:
    """Return the zero and span correction that a straight check asks for, and what it leaves.

    reference: where to look [unit], positive, shape (points,).
    Returns: Correction; u_after holds the line's own uncertainty only, not that of a later test gas.
    Raises: LineInputError where the points are not on one line: a correction by a line would hide it.
    Source: ISO/TS 28037:2010, 11.3 (uncertainty of a value read back).
    """
    if not check.straight:
        raise LineInputError(
            f"the points do not lie on one line (largest residual {check.largest_residual:.2f} at point {check.at}, "
            f"chi-square {check.chi_square:.2f} over {check.critical:.2f}); zero and span cannot mend that"
        )
    at, line = positive_limit(reference), check.fit.line
    before = line.intercept + (line.slope - 1.0) * at
    variance = line.u_intercept**2 + 2.0 * at * line.covariance + (at * line.u_slope) ** 2
    left = np.sqrt(np.maximum(variance, 0.0)) / abs(line.slope)
    return Correction(line.slope, line.intercept, before, np.zeros_like(before), left)
