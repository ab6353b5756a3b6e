"""Linear least squares by QR on scaled columns, refined once in extended precision where the machine has it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import LineInputError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

_REFINEMENTS = 2


@dataclass(frozen=True, slots=True, eq=False)
class LinearFit:
    """Coefficients of a linear model with what their scatter says.

    coefficients [unit of y over unit of the column], shape (columns,); cofactors: covariance of the coefficients over
    the variance of a point, shape (columns, columns); residuals [unit of y], shape (points,); residual_sum [unit of y
    squared]; residual_sd [unit of y]; dof: points minus columns [-]; r_squared [-], about the mean where the first
    column is constant, else about zero.
    Source: JCGM 100:2008, H.3; definitions of the NIST StRD certified values.
    """

    coefficients: FloatArray
    cofactors: FloatArray
    residuals: FloatArray
    residual_sum: float
    residual_sd: float
    dof: int
    r_squared: float

    @property
    def covariance(self) -> FloatArray:
        """Covariance of the coefficients from the residual scatter, shape (columns, columns).

        Source: JCGM 100:2008, H.3.2.
        """
        return self.cofactors * self.residual_sd**2

    @property
    def standard_errors(self) -> FloatArray:
        """Standard uncertainties of the coefficients [as the coefficients].

        Source: JCGM 100:2008, H.3.2.
        """
        return np.asarray(np.sqrt(np.diag(self.covariance)), dtype=np.float64)


def fit_linear(design: ArrayLike, y: ArrayLike) -> LinearFit:
    """Return the least-squares coefficients of y on the columns of a design matrix.

    design [any units], shape (points, columns), more points than columns; y [unit], shape (points,).
    Raises: LineInputError for bad shapes, numbers that are not finite, or columns that depend on each other.
    Source: Golub and Van Loan, Matrix Computations, QR least squares with iterative refinement (from memory).
    """
    matrix, values = np.asarray(design, dtype=np.float64), np.asarray(y, dtype=np.float64)
    if matrix.ndim != 2 or values.shape != matrix.shape[:1] or matrix.shape[0] <= matrix.shape[1]:
        raise LineInputError(
            f"need more points than coefficients; got a design of shape {matrix.shape} for {values.shape} values"
        )
    if not (np.isfinite(matrix).all() and np.isfinite(values).all()):
        raise LineInputError("every x and y must be a finite number")
    scale = np.sqrt(np.sum(matrix**2, axis=0))
    if not scale.all():
        raise LineInputError("a column of the design is zero throughout: nothing varies to be fitted")
    scale = np.exp2(np.round(np.log2(scale)))  # powers of two: scaling loses no digit
    orthogonal, triangle = np.linalg.qr(matrix / scale)
    pivots = np.abs(np.diag(triangle))
    if pivots.min() <= 1e-13 * pivots.max():
        raise LineInputError("the columns depend on each other: all x alike, or too few different x for the degree")
    scaled, residuals = _solved(matrix / scale, values, orthogonal, triangle)
    dof = matrix.shape[0] - matrix.shape[1]
    residual_sum = float(residuals @ residuals)
    inverse = np.linalg.solve(triangle, np.eye(len(scale)))
    constant = np.ptp(matrix[:, 0]) == 0.0
    total = float(np.sum((values - (values.mean() if constant else 0.0)) ** 2))
    return LinearFit(
        coefficients=scaled / scale,
        cofactors=(inverse @ inverse.T) / np.outer(scale, scale),
        residuals=residuals,
        residual_sum=residual_sum,
        residual_sd=float(np.sqrt(residual_sum / dof)),
        dof=dof,
        r_squared=1.0 - residual_sum / total if total > 0.0 else 1.0,
    )


def _solved(
    matrix: FloatArray, values: FloatArray, orthogonal: FloatArray, triangle: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Solve, then correct coefficients and residuals by what the augmented system leaves over."""
    long_matrix, long_values = matrix.astype(np.longdouble), values.astype(np.longdouble)
    solution = np.zeros(matrix.shape[1], dtype=np.longdouble)
    residuals = np.zeros(matrix.shape[0], dtype=np.longdouble)
    for _ in range(1 + _REFINEMENTS):
        left = (long_values - residuals - long_matrix @ solution).astype(np.float64)
        normal = (-(long_matrix.T @ residuals)).astype(np.float64)
        inner = np.linalg.solve(triangle.T, normal)
        projected = orthogonal.T @ left
        step = np.linalg.solve(triangle, projected - inner)
        solution += step
        residuals += left - orthogonal @ (projected - inner)
    return solution.astype(np.float64), residuals.astype(np.float64)
