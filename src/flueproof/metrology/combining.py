"""Many contributions into one standard uncertainty with its effective degrees of freedom, for arrays of points."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from flueproof.metrology.errors import BudgetError, EmptyBudgetError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]

# variances between these need no scaling before they are squared once more (float64 ends at 1e-308 and 1e308)
SAFE_LOW, SAFE_HIGH = 1e-140, 1e140
PSD_SLACK = 1e-9  # a correlation matrix typed with rounded figures may be this far from possible


class CombinedArrays(NamedTuple):
    """Standard uncertainty [unit of the result] and effective degrees of freedom [-], shape of the points."""

    u: FloatArray
    dof: FloatArray


def combine(contributions: ArrayLike, dof: ArrayLike = np.inf, correlation: ArrayLike | None = None) -> CombinedArrays:
    """Return combined standard uncertainty and effective degrees of freedom over the last axis.

    contributions: sensitivity times standard uncertainty, signed [unit of the result], shape (..., inputs).
    dof: degrees of freedom [-], shape (inputs,) or one that broadcasts, `inf` where taken as exactly known.
    correlation: coefficients [-], shape (inputs, inputs), or None for independent inputs. Inputs that are tied by any
    coefficient count as one group in Welch-Satterthwaite, with the smallest degrees of freedom of its members: exact
    for readings taken together, cautious else. Inputs with r = +1 or -1 are added as signed numbers first.
    Returns: (u, dof), each of shape (...); dof is `inf` where no contribution has a finite number.
    Raises: EmptyBudgetError, BudgetError.
    Source: JCGM 100:2008, 5.1.2 and 5.2.2 (sum), G.4.1 equation (G.2b) (degrees of freedom); groups after
    R. Willink, Metrologia 44 (2007) 340 (from memory).
    """
    parts = np.asarray(contributions, dtype=np.float64)
    nu = np.asarray(dof, dtype=np.float64)
    _check(parts, nu)
    if correlation is None:
        return _independent(parts, nu)
    matrix = checked_correlation(correlation, parts.shape[-1])
    parts, nu, matrix = _tie_fully_correlated(parts, nu, matrix)
    groups = tied_groups(matrix)
    variances = np.stack([_quadratic(parts[..., group], matrix[np.ix_(group, group)]) for group in groups], axis=-1)
    nu = np.stack([np.min(np.broadcast_to(nu, parts.shape)[..., group], axis=-1) for group in groups], axis=-1)
    return _independent(np.sqrt(variances), nu)


def checked_correlation(correlation: ArrayLike, inputs: int) -> FloatArray:
    """Return the correlation matrix as float64 of shape (inputs, inputs) [-] after looking whether it is possible.

    Raises: BudgetError where it is not square, not symmetric, has no unit diagonal or cannot exist.
    Source: JCGM 100:2008, 5.2.2 (|r| <= 1); JCGM 102:2011, 3.21 (positive semi-definite), clause from memory.
    """
    matrix = np.asarray(correlation, dtype=np.float64)
    if matrix.shape != (inputs, inputs):
        raise BudgetError(
            f"the correlation matrix must be {inputs} by {inputs}, one row per contribution; got {matrix.shape}"
        )
    if not np.isfinite(matrix).all() or np.abs(matrix).max() > 1.0:
        raise BudgetError("correlation coefficients must lie between -1 and 1")
    if not np.allclose(matrix, matrix.T, rtol=0.0, atol=1e-12) or not np.all(np.diag(matrix) == 1.0):
        raise BudgetError("the correlation matrix must be symmetric with ones on its diagonal")
    if np.linalg.eigvalsh(matrix)[0] < -PSD_SLACK * inputs:
        raise BudgetError("these correlation coefficients cannot hold together; check the pairs that share an input")
    return matrix


def tied_groups(matrix: FloatArray) -> list[list[int]]:
    """Return the positions of inputs that are tied to each other by any coefficient, one list per group.

    matrix: correlation coefficients [-], shape (inputs, inputs).
    Source: common practice, no source.
    """
    left, groups = set(range(len(matrix))), []
    while left:
        group, front = set[int](), {min(left)}
        while front:
            group |= front
            front = {int(at) for row in front for at in np.flatnonzero(matrix[row])} - group
        groups.append(sorted(group))
        left -= group
    return groups


def _check(parts: FloatArray, nu: FloatArray) -> None:
    if parts.ndim == 0 or parts.shape[-1] == 0:
        raise EmptyBudgetError("a budget needs at least one contribution on the last axis; got none")
    # a sum of all elements is finite only where each of them is, and costs far less than looking at each
    if not np.isfinite(parts.sum()) and not np.isfinite(parts).all():
        raise BudgetError("every contribution must be a finite number; look for a missing certificate value")
    if not (nu > 0.0).all():
        raise BudgetError("degrees of freedom must be above zero (infinite where exactly known)")
    if nu.ndim and nu.shape[-1] not in {1, parts.shape[-1]}:
        raise BudgetError(f"{parts.shape[-1]} contributions need as many degrees of freedom; got {nu.shape[-1]}")


def _independent(parts: FloatArray, nu: FloatArray) -> CombinedArrays:
    variance = np.einsum("...i,...i->...", parts, parts)
    if np.isinf(nu).all():
        return CombinedArrays(np.sqrt(variance), np.full(variance.shape, np.inf))
    if variance.size and (variance.min() < SAFE_LOW or variance.max() > SAFE_HIGH):
        return _independent_scaled(parts, nu)
    fourth = np.square(parts)
    np.square(fourth, out=fourth)
    spread = fourth @ (1.0 / nu) if nu.shape == parts.shape[-1:] else np.sum(fourth / nu, axis=-1)
    with np.errstate(divide="ignore"):
        return CombinedArrays(np.sqrt(variance), variance * variance / spread)


def _independent_scaled(parts: FloatArray, nu: FloatArray) -> CombinedArrays:
    """Do the same for points with all-zero, very small or very large contributions."""
    largest = np.abs(parts).max(axis=-1)
    scaled = parts / np.where(largest > 0.0, largest, 1.0)[..., np.newaxis]
    variance = np.einsum("...i,...i->...", scaled, scaled)
    spread = np.sum(scaled**4 / nu, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        dof = np.where(spread > 0.0, variance * variance / spread, np.inf)
    return CombinedArrays(largest * np.sqrt(variance), dof)


def _tie_fully_correlated(
    parts: FloatArray, nu: FloatArray, matrix: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Add inputs with r = +1 or -1 as signed numbers, so that opposite shares cancel to exactly nothing."""
    groups = tied_groups(np.where(np.abs(matrix) == 1.0, matrix, 0.0))
    if len(groups) == len(matrix):
        return parts, nu, matrix
    first = [group[0] for group in groups]
    nu = np.broadcast_to(nu, parts.shape)
    summed = np.stack([parts[..., group] @ np.sign(matrix[group[0], group]) for group in groups], axis=-1)
    return (
        summed,
        np.stack([np.min(nu[..., group], axis=-1) for group in groups], axis=-1),
        matrix[np.ix_(first, first)],
    )


def _quadratic(parts: FloatArray, matrix: FloatArray) -> FloatArray:
    return np.asarray(np.maximum(np.einsum("...i,ij,...j->...", parts, matrix, parts), 0.0), dtype=np.float64)
