"""Say conform, not conform or undecided: decision rules, their guard bands, and how sure a statement is.

    conform        |error| <= limit - w
    not conform    |error| >  limit + w
    undecided      between; printed "too close to call"

Each rule says what its guard band w is. Quantities of one call share one unit, written [unit].
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, cast

import numpy as np

from flueproof.metrology.decision.inputs import finite_array, limit_pair, not_negative, plain_result, positive_limit
from flueproof.metrology.errors import ConformityInputError, DecisionRuleError
from flueproof.metrology.functions import special

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    FloatArray = NDArray[np.float64]
    CodeArray = NDArray[np.int8]

Statement = Literal["conform", "undecided", "not-conform"]

CONFORM, UNDECIDED, NOT_CONFORM = 1, 0, -1
RULE_NAMES = ("simple", "guarded-U", "guarded-rU", "risk-2", "specific-2")
DEFAULT_RULE_NAME = "risk-2"
_STATEMENTS: dict[int, Statement] = {CONFORM: "conform", UNDECIDED: "undecided", NOT_CONFORM: "not-conform"}


@dataclass(frozen=True, slots=True)
class DecisionRule:
    """How the guard band of a statement is found.

    name: one of RULE_NAMES; r: guard band as a multiple of the expanded uncertainty [-], for "guarded-rU" only;
    max_risk: the largest false-accept probability that the "-2" rules allow [-].
    Raises: DecisionRuleError.
    Source: JCGM 106:2012, 8.2 and 8.3; ILAC-G8:09/2019; the rule names are our own.
    """

    name: str
    r: float | None = None
    max_risk: float = 0.02

    def __post_init__(self) -> None:
        if self.name not in RULE_NAMES:
            raise DecisionRuleError(f"decision rule {self.name!r} is not known; allowed: {', '.join(RULE_NAMES)}")
        if self.name == "guarded-rU":
            if self.r is None or not 0.0 <= self.r <= 10.0:
                raise DecisionRuleError(
                    f"decision rule 'guarded-rU' needs r, the guard band over U, from 0 to 10; got {self.r!r}"
                )
        elif self.r is not None:
            raise DecisionRuleError(f"decision rule {self.name!r} takes no r (got {self.r!r}); use 'guarded-rU'")
        if self.name == "risk-2" and self.max_risk != 0.02:
            raise DecisionRuleError(
                f"decision rule 'risk-2' stands for a risk of 0.02; got {self.max_risk!r}. "
                "For another risk use 'specific-2' with max_risk, or risk.guard_for_global_risk"
            )
        if not 0.0 < self.max_risk < 0.5:
            raise DecisionRuleError(f"max_risk is a probability above 0 and below 0.5; got {self.max_risk!r}")


def decision_rule(name: str, r: float | None = None) -> DecisionRule:
    """Return the decision rule of that name.

    name: one of RULE_NAMES; r: multiple of the expanded uncertainty [-], for "guarded-rU" only.
    Raises: DecisionRuleError.
    Source: JCGM 106:2012, 8.2 and 8.3; the names are our own.
    """
    return DecisionRule(name, r)


def guard_multiplier(tur: ArrayLike) -> FloatArray:
    """Return M, the guard band over U that keeps false accepts at most 2 % whatever the population [-].

    tur: test uncertainty ratio limit / U [-], any shape, positive.
    Returns: M = max(0, 1.04 - exp(0.38 ln TUR - 0.54)), same shape [-]; zero above a TUR of about 4.6.
    Source: Dobbert, NCSL International Workshop and Symposium 2008, method 6 of the ANSI/NCSL Z540.3 handbook.
    """
    ratio = np.asarray(tur, dtype=np.float64)
    return cast("FloatArray", np.maximum(0.0, 1.04 - np.exp(0.38 * np.log(ratio) - 0.54)))


def test_uncertainty_ratio(limit: ArrayLike, expanded: ArrayLike) -> float | FloatArray:
    """Return the test uncertainty ratio: limit over expanded uncertainty [-].

    limit: largest allowed absolute error [unit], positive; expanded: U [unit], not negative (zero gives inf).
    Returns: a float for scalars, else the broadcast shape [-]. It equals C_m of JCGM 106 when k = 2.
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 7.6.3 (measurement capability index) for symmetric limits.
    """
    limits, expandeds = positive_limit(limit), not_negative(expanded, "expanded uncertainty")
    with np.errstate(divide="ignore"):
        return plain_result(np.divide(limits, expandeds))


test_uncertainty_ratio.__test__ = False  # type: ignore[attr-defined]  # a test runner takes the name for a test


def guard_band(
    rule: DecisionRule, limit: ArrayLike, u: ArrayLike, dof: ArrayLike = np.inf, k: ArrayLike = 2.0
) -> float | FloatArray:
    """Return the guard band w of a rule [unit].

    limit: largest allowed absolute error [unit], positive; u: standard uncertainty of the error [unit]; dof: its
    degrees of freedom [-]; k: coverage factor that makes U = k u [-]. Shapes broadcast.
    Returns: w, a float for scalars. simple 0; guarded-U U; guarded-rU r U; risk-2 M(limit/U) U; specific-2
    t(1 - max_risk, dof) u.
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 8.3.2; for risk-2 see guard_multiplier; specific-2: JCGM 106:2012, 8.3.3.1 example 2 (t).
    """
    limits, standard = positive_limit(limit), not_negative(u, "standard uncertainty")
    expanded = np.asarray(k, dtype=np.float64) * standard
    if rule.name == "simple":
        guard = np.zeros(np.broadcast_shapes(limits.shape, expanded.shape))
    elif rule.name == "guarded-U":
        guard = expanded
    elif rule.name == "guarded-rU":
        guard = float(cast("float", rule.r)) * expanded
    elif rule.name == "specific-2":
        guard = special.stdtrit(np.asarray(dof, dtype=np.float64), 1.0 - rule.max_risk) * standard
    else:
        known = expanded > 0.0
        guard = np.where(known, expanded * guard_multiplier(limits / np.where(known, expanded, limits)), 0.0)
    return plain_result(guard)


def statement_codes(error: ArrayLike, limit: ArrayLike, guard: ArrayLike) -> CodeArray:
    """Return 1 conform, 0 undecided, -1 not conform for errors against symmetric limits.

    error: reading minus reference [unit]; limit: largest allowed absolute error [unit], positive; guard: w [unit],
    not negative. Shapes broadcast. Returns: int8 [-].
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 8.3; ILAC-G8:09/2019 (statements with an undecided zone); our three statements.
    """
    errors = finite_array(error, "error")
    return statement_codes_between(errors, -positive_limit(limit), limit, guard)


def statement_codes_between(
    value: ArrayLike, lower: ArrayLike | None, upper: ArrayLike | None, guard: ArrayLike
) -> CodeArray:
    """Return 1 conform, 0 undecided, -1 not conform for values against a lower and an upper limit.

    value, lower, upper, guard [unit]; None or an infinity means no limit on that side. Shapes broadcast.
    Returns: int8 [-]. A value on the edge of the inner zone conforms; one on the edge of the outer zone is undecided.
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 8.3 (one-sided and two-sided tolerance intervals); our three statements.
    """
    values, guards = finite_array(value, "value"), not_negative(guard, "guard band")
    low, high = limit_pair(lower, upper)
    conform = (values >= low + guards) & (values <= high - guards)
    outside = (values < low - guards) | (values > high + guards)
    return np.asarray(conform, dtype=np.int8) - np.asarray(outside, dtype=np.int8)


def statement_of(error: float, limit: float, guard: float) -> Statement:
    """Return the statement about one error against +-limit: "conform", "undecided" or "not-conform" [-].

    error, limit, guard [unit]. Raises: ConformityInputError.
    Source: as statement_codes.
    """
    return _STATEMENTS[int(statement_codes(error, limit, guard))]


def statement_name(code: int) -> Statement:
    """Return the name of a statement code [-]: 1 "conform", 0 "undecided", -1 "not-conform".

    Source: our own names.
    """
    return _STATEMENTS[int(code)]


def conformance_probability(
    error: ArrayLike,
    u: ArrayLike,
    lower: ArrayLike | None,
    upper: ArrayLike | None,
    dof: ArrayLike = np.inf,
) -> float | FloatArray:
    """Return the probability that the true error lies within the limits [-].

    error: best estimate [unit]; u: its standard uncertainty [unit], zero means exactly known; lower, upper: limits
    [unit], None or an infinity for no limit; dof: degrees of freedom [-], `inf` for a normal distribution.
    Returns: a float for scalars, else the broadcast shape [-].
    Raises: ConformityInputError.
    Source: JCGM 106:2012, 7.3.3 and 7.4; the t distribution for finite dof: JCGM 101:2008, 6.4.9.
    """
    values, standard = finite_array(error, "error"), not_negative(u, "standard uncertainty")
    low, high = limit_pair(lower, upper)
    freedom = np.asarray(dof, dtype=np.float64)
    exact = standard == 0.0
    scale = np.where(exact, 1.0, standard)
    # Both tails are taken on the side where they are small: no digits are lost far outside or far inside.
    above, below = (values - high) / scale, (low - values) / scale
    outside = _lower_tail(freedom, above) + _lower_tail(freedom, below)
    far = np.maximum(above, below) > 0.0
    within = np.where(
        far,
        _lower_tail(freedom, -np.maximum(above, below)) - _lower_tail(freedom, np.minimum(above, below)),
        1.0 - outside,
    )
    known = np.where((values >= low) & (values <= high), 1.0, 0.0)
    return plain_result(np.clip(np.where(exact, known, within), 0.0, 1.0))


def normalized_error(
    value: ArrayLike, reference: ArrayLike, value_expanded: ArrayLike, reference_expanded: ArrayLike
) -> float | FloatArray:
    """Return E_n, the difference of two results over its expanded uncertainty [-]; agreement when |E_n| <= 1.

    value, reference and their expanded uncertainties [unit], taken as independent.
    Raises: ConformityInputError.
    Source: ISO/IEC 17043 and ISO 13528, E_n score; from memory.
    """
    spread = np.hypot(
        not_negative(value_expanded, "expanded uncertainty"), not_negative(reference_expanded, "expanded uncertainty")
    )
    if np.any(spread == 0.0):
        raise ConformityInputError("both expanded uncertainties are zero; E_n needs one above zero")
    return plain_result((finite_array(value, "value") - finite_array(reference, "reference")) / spread)


def rule_in_words(rule: DecisionRule) -> str:
    """Return the decision rule as a sentence or two for the certificate [-].

    Source: own words; what must be stated: ISO/IEC 17025:2017, 7.8.6; rules: JCGM 106:2012 and ILAC-G8:09/2019.
    """
    return (
        "Conform: the error is no larger than its limit less a guard band w. Not conform: it is larger than the limit "
        f"plus w. Between: too close to call. Here {_guard_in_words(rule)}."
    )


def _guard_in_words(rule: DecisionRule) -> str:
    risk, level = f"{100.0 * rule.max_risk:g} %", f"{100.0 - 100.0 * rule.max_risk:g} %"
    return {
        "simple": "w = 0 (simple acceptance, JCGM 106:2012, 8.2): an error just at its limit may truly be outside "
        "with a probability of up to 50 %",
        "guarded-U": "w = U, the expanded uncertainty (JCGM 106:2012, 8.3.2; ILAC-G8:09/2019): a point called "
        "conforming is truly outside with a probability of at most about 2.3 %",
        "guarded-rU": f"w = {rule.r or 0.0:g} U, with U the expanded uncertainty (JCGM 106:2012, 8.3.2; "
        "ILAC-G8:09/2019)",
        "risk-2": "w = M U, with U the expanded uncertainty and M = 1.04 - exp(0.38 ln(limit/U) - 0.54), never below "
        f"0 (JCGM 106:2012, 8.3.2 and 9; M after Dobbert 2008): of all instruments, at most {risk} are truly "
        "outside and called conforming",
        "specific-2": f"w = t u, with u the standard uncertainty and t the one-sided {level} factor for its degrees "
        "of freedom (JCGM 106:2012, 8.3.2; ILAC-G8:09/2019): a point called conforming is truly outside with a "
        f"probability of at most {risk}",
    }[rule.name]


def _lower_tail(dof: FloatArray, z: FloatArray) -> FloatArray:
    normal = special.ndtr(z)
    if np.all(np.isinf(dof)):
        return cast("FloatArray", normal)
    finite = np.where(np.isinf(dof), 1.0, dof)
    return cast("FloatArray", np.where(np.isinf(dof), normal, special.stdtr(finite, z)))
