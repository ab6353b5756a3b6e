"""Decision risks for a population of any shape: true errors of a known density, measured with a normal deviation."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.decision.inputs import limit_pair
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.functions import special
from flueproof.metrology.risk import GlobalRisks

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

_PANELS, _NODES = 24, 12
_EDGE_WIDTH = 8.0  # standard uncertainties around an acceptance limit where acceptance changes


def global_risks_of_density(
    density: Callable[[FloatArray], FloatArray],
    support: tuple[float, float],
    tolerance: tuple[float | None, float | None],
    acceptance: tuple[float | None, float | None],
    u: float,
) -> GlobalRisks:
    """Return the global risks for true values of a given density.

    density: probability density of the true values [1/unit], called with arrays; support: finite interval that holds
    it [unit]; tolerance, acceptance: lower and upper limits of the true and the measured value [unit], None for
    none; u: standard uncertainty of the measurement [unit], positive.
    Returns: GlobalRisks [-]; composite Gauss-Legendre, about ten digits for a smooth density.
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 9.5.2, expressions for any prior density.
    """
    if not (u > 0.0 and math.isfinite(support[0]) and math.isfinite(support[1]) and support[0] < support[1]):
        raise ConformityInputError(f"u must be above zero and the support a finite interval; got {u!r} and {support!r}")
    low, high = (float(edge) for edge in limit_pair(*tolerance))
    shown_low, shown_high = (float(edge) for edge in limit_pair(*acceptance))
    near_edges = [edge + side * _EDGE_WIDTH * u for edge in (shown_low, shown_high) for side in (-1.0, 0.0, 1.0)]
    true, weights = _nodes(support, [low, high, *near_edges])
    mass = weights * density(true)
    accepted = special.ndtr((shown_high - true) / u) - special.ndtr((shown_low - true) / u)
    inside = (true >= low) & (true <= high)
    return GlobalRisks(float(np.sum((mass * accepted)[~inside])), float(np.sum((mass * (1.0 - accepted))[inside])))


def _nodes(support: tuple[float, float], edges: list[float]) -> tuple[FloatArray, FloatArray]:
    cuts = np.unique([*support, *(edge for edge in edges if support[0] < edge < support[1])])
    panels = np.unique(np.concatenate([np.linspace(a, b, _PANELS + 1) for a, b in itertools.pairwise(cuts)]))
    places, weights = np.polynomial.legendre.leggauss(_NODES)
    half = 0.5 * np.diff(panels)[:, np.newaxis]
    middle = 0.5 * (panels[1:] + panels[:-1])[:, np.newaxis]
    return (middle + half * places).ravel(), (half * weights).ravel()
