"""Smallest contents a channel can tell from nothing: decision, detection and quantification limits."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.functions import special
from flueproof.metrology.lines.inverse_use import read_back_scatter

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from flueproof.metrology.lines.straight import ScatterLine


def decision_limit(fit: ScatterLine, alpha: float = 0.05, repeats: int = 1) -> float:
    """Return the content from which a reading says "present", falsely at most with probability alpha [unit of x].

    alpha [-]; repeats: readings averaged [-].
    Raises: LineInputError, LineInversionError.
    Source: DIN 32645, calibration-line method.
    """
    at_zero = read_back_scatter(fit, fit.line.intercept, repeats)
    return _t(fit.line.dof, 1.0 - alpha) * at_zero.u


def detection_limit(fit: ScatterLine, alpha: float = 0.05, repeats: int = 1) -> float:
    """Return the smallest content found present with probability 1 - alpha [unit of x]: twice the decision limit.

    alpha: of both kinds of error [-]; repeats: readings averaged [-].
    Raises: LineInputError, LineInversionError.
    Source: DIN 32645, calibration-line method, equal risks.
    """
    return 2.0 * decision_limit(fit, alpha, repeats)


def quantification_limit(fit: ScatterLine, k: float = 3.0, alpha: float = 0.05, repeats: int = 1) -> float:
    """Return the content whose half-width at 1 - alpha (two-sided) is the content over k [unit of x].

    k: content over half-width [-]; alpha [-]; repeats: readings averaged [-].
    Raises: LineInputError where no content reaches it, LineInversionError.
    Source: DIN 32645, calibration-line method; solved in closed form.
    """
    # x^2 = F^2 (share + (x - x_mean)^2/x_spread), with F = k t s/|b|: a quadratic with one positive root
    at_zero = read_back_scatter(fit, fit.line.intercept, repeats)
    factor = (k * _t(fit.line.dof, 1.0 - 0.5 * alpha)) ** 2
    bend = factor * (fit.residual_sd / fit.line.slope) ** 2 / fit.x_spread
    if bend >= 1.0:
        raise LineInputError(f"the line is too scattered: no content is known to one part in {k:g}")
    half = bend * fit.x_mean
    return (math.sqrt(half**2 + (1.0 - bend) * factor * at_zero.u**2) - half) / (1.0 - bend)


def blank_decision_limit(blanks: ArrayLike, slope: float, alpha: float = 0.05, repeats: int = 1) -> float:
    """Return the decision limit from repeated blank readings [unit of x].

    blanks: readings on zero gas [unit of y], at least two; slope [unit of y over unit of x], not zero; alpha [-];
    repeats: readings averaged later [-].
    Raises: LineInputError.
    Source: DIN 32645, blank method.
    """
    values = np.asarray(blanks, dtype=np.float64)
    if values.ndim != 1 or values.size < 2 or not np.isfinite(values).all() or slope == 0.0 or repeats < 1:
        raise LineInputError("need two or more finite blank readings, a slope that is not zero, one repeat or more")
    spread = float(values.std(ddof=1)) * math.sqrt(1.0 / repeats + 1.0 / values.size)
    return _t(values.size - 1.0, 1.0 - alpha) * spread / abs(slope)


def known_scatter_limits(u_blank: float, alpha: float = 0.05, *, paired: bool = False) -> tuple[float, float]:
    """Return critical value and detection limit for a known scatter of the blank [unit of u_blank].

    u_blank: standard deviation, positive; alpha: of both kinds of error [-]; paired: a blank is subtracted each time.
    Raises: LineInputError.
    Source: Currie 1968, Analytical Chemistry 40; from memory.
    """
    if not (u_blank > 0.0 and math.isfinite(u_blank)):
        raise LineInputError(f"the scatter of the blank must be above zero; got {u_blank!r}")
    critical = _t(math.inf, 1.0 - alpha) * u_blank * (math.sqrt(2.0) if paired else 1.0)
    return critical, 2.0 * critical


def _t(dof: float, probability: float) -> float:
    if not 0.5 < probability < 1.0:
        raise LineInputError(f"alpha must be above 0 and below 0.5; got {1.0 - probability:g}")
    return float(special.stdtrit(dof, probability))
