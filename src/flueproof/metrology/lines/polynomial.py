"""Polynomials of low degree by ordinary least squares."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.least_squares import LinearFit, fit_linear
from flueproof.metrology.lines.straight import point_arrays

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

HIGHEST_DEGREE = 5


def fit_polynomial(x: ArrayLike, y: ArrayLike, degree: int) -> LinearFit:
    """Return the fit of y = B0 + B1 x + ... + Bd x^d; scatter in y unknown and alike everywhere.

    x [unit of x], y [unit of y], shape (points,), more points than coefficients; degree: 1 to 5 [-]. Coefficients
    come lowest power first.
    Raises: LineInputError.
    Source: NIST StRD, model of the Pontius dataset (degree 2).
    """
    if not 1 <= degree <= HIGHEST_DEGREE:
        raise LineInputError(f"the degree must be from 1 to {HIGHEST_DEGREE}; got {degree!r}")
    xs, ys = point_arrays(x, y)
    return fit_linear(np.vander(xs, degree + 1, increasing=True), ys)
