"""An uncertainty budget as a value: its lines, what they share, and what they come to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from flueproof.metrology.combining import checked_correlation, combine
from flueproof.metrology.coverage import LEVEL, coverage_factor
from flueproof.metrology.errors import BudgetError, EmptyBudgetError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from flueproof.metrology.distributions import Distribution

    FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Component:
    """One line of a budget.

    name: what it is, unique in its budget. u: standard uncertainty of the input [unit of the input], not negative.
    dof: degrees of freedom [-]. sensitivity: what one unit of the input does to the result [unit of the result per
    unit of the input], signed. kind: distribution, for the printed budget. shared: name of a common cause (a bottle,
    the bench); lines with the same cause are one error and add as signed numbers.
    Raises: BudgetError.
    """

    name: str
    u: float
    dof: float = math.inf
    sensitivity: float = 1.0
    kind: str = "normal"
    shared: str | None = None

    def __post_init__(self) -> None:
        if not (math.isfinite(self.u) and self.u >= 0.0):
            raise BudgetError(f"{self.name}: a standard uncertainty must be finite and not negative; got {self.u!r}")
        if not self.dof > 0.0:
            raise BudgetError(f"{self.name}: degrees of freedom must be above zero; got {self.dof!r}")
        if not math.isfinite(self.sensitivity):
            raise BudgetError(f"{self.name}: the sensitivity must be finite; got {self.sensitivity!r}")

    @property
    def contribution(self) -> float:
        """Signed part in the result's standard uncertainty [unit of the result]. Source: JCGM 100:2008, 5.1.3."""
        return self.sensitivity * self.u


@dataclass(frozen=True, slots=True)
class Budget:
    """Lines of a budget and what is known of their correlation.

    components: the lines. correlation: (name, other name, coefficient [-]) for lines that are tied but not by one
    common cause; a pair given for a line with a common cause holds for all lines of that cause.
    Raises: EmptyBudgetError, BudgetError.
    Source: JCGM 100:2008, 5.2.2, F.1.2.
    """

    components: tuple[Component, ...]
    correlation: tuple[tuple[str, str, float], ...] = ()

    def __post_init__(self) -> None:
        if not self.components:
            raise EmptyBudgetError("a budget needs at least one component; got none")
        names = [component.name for component in self.components]
        for name in names:
            if names.count(name) > 1:
                raise BudgetError(f"the name {name!r} stands twice in the budget; give each line its own")
        for first, second, _ in self.correlation:
            for name in (first, second):
                if name not in names:
                    raise BudgetError(f"correlation names {name!r}, which is no line; lines are {', '.join(names)}")


@dataclass(frozen=True, slots=True)
class Combined:
    """What a budget comes to.

    u: combined standard uncertainty; expanded: k times u [unit of the result]. dof: effective degrees of freedom;
    k: coverage factor [-]. shares: part of the variance that each line brings [-], in the order of the lines, adding
    to 1; one that is correlated against the others may be negative.
    """

    u: float
    dof: float
    k: float
    expanded: float
    shares: tuple[float, ...]


def component_of(
    name: str, distribution: Distribution, sensitivity: float = 1.0, shared: str | None = None
) -> Component:
    """Return the budget line of a distribution: its standard uncertainty, degrees of freedom and kind.

    sensitivity: [unit of the result per unit of the distribution]. shared: name of a common cause, if any.
    Raises: BudgetError.
    Source: JCGM 100:2008, 4.3 and 5.1.3.
    """
    return Component(name, distribution.u, distribution.dof, sensitivity, distribution.kind, shared)


def combined_uncertainty(budget: Budget, level: float = LEVEL) -> Combined:
    """Return combined and expanded uncertainty of a budget, with what each line brings.

    level: level of confidence [-]. The coverage factor is taken at the effective degrees of freedom, not truncated.
    Raises: BudgetError, LevelError.
    Source: JCGM 100:2008, 5.1.2, 5.2.2, 6.2.1, G.4.1, G.6.4.
    """
    parts = np.array([component.contribution for component in budget.components])
    dof = np.array([component.dof for component in budget.components])
    matrix = correlation_matrix(budget)
    u, effective = (float(result) for result in combine(parts, dof, matrix))
    k = coverage_factor(effective, level)
    against = parts if matrix is None else matrix @ parts
    largest = float(np.abs(parts).max())
    scaled = parts / largest if largest else parts
    total = (u / largest) ** 2 if largest else 0.0
    shares = scaled * (against / largest) / total if total else np.zeros_like(parts)
    return Combined(u, effective, k, k * u, tuple(float(share) + 0.0 for share in shares))


def correlation_matrix(budget: Budget) -> FloatArray | None:
    """Return the correlation coefficients of a budget's lines [-], shape (lines, lines), or None where there are none.

    Lines with the same common cause get 1.
    Raises: BudgetError where the pairs given cannot hold together.
    Source: JCGM 100:2008, 5.2.2, F.1.2.3 (a common cause).
    """
    causes = [component.shared for component in budget.components]
    if not budget.correlation and len(set(causes) - {None}) == len(causes) - causes.count(None):
        return None
    lines = len(causes)
    matrix = np.eye(lines)
    alike = [[at for at in range(lines) if at == line or (causes[line] and causes[at] == causes[line])]
             for line in range(lines)]  # fmt: skip
    for line in range(lines):
        matrix[line, alike[line]] = 1.0
    names = [component.name for component in budget.components]
    for first, second, coefficient in budget.correlation:
        rows, columns = alike[names.index(first)], alike[names.index(second)]
        if columns[0] in rows and coefficient != 1.0:
            raise BudgetError(f"{first!r} and {second!r} are one error already (same cause); leave the pair out")
        for row in rows:
            matrix[row, columns] = coefficient
            matrix[columns, row] = coefficient
    return checked_correlation(matrix, lines)
