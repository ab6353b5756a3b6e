"""One judge for one point and for many."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.metrology.combining import combine
from flueproof.metrology.conformity import (
    RULE_NAMES,
    DecisionRule,
    conformance_probability,
    guard_band,
    statement_codes,
    test_uncertainty_ratio,
)
from flueproof.metrology.coverage import coverage_factor
from flueproof.metrology.errors import BudgetError, ConformityInputError
from flueproof.metrology.judging import BLOCK, judge_points
from flueproof.metrology.risk import specific_risk

RULES = [DecisionRule(name, 0.5 if name == "guarded-rU" else None) for name in RULE_NAMES]
DOF = np.array([np.inf, 50.0, 9.0, np.inf, 4.0, 1.0])


def many_points(count):
    generator = np.random.default_rng(7)
    lines = generator.uniform(0.02, 1.0, (count, 6)) * [2.5, 1.0, 0.8, 0.3, 0.5, 0.6]
    return generator.normal(0.0, 6.0, count), lines, generator.uniform(5.0, 15.0, count)


@pytest.mark.parametrize("rule", RULES, ids=RULE_NAMES)
def test_the_bulk_judge_agrees_with_the_single_formulas(rule):
    errors, lines, limits = many_points(3000)
    said = judge_points(errors, lines, DOF, limits, rule)
    u, dof = combine(lines, DOF)
    k = coverage_factor(dof)
    guard = guard_band(rule, limits, u, dof, k)
    inside = conformance_probability(errors, u, -limits, limits, dof)
    assert np.array_equal(said.u, u)
    assert np.array_equal(said.dof, dof)
    assert said.k == pytest.approx(k, rel=1e-6)
    assert said.expanded == pytest.approx(k * u, rel=1e-6)
    assert np.max(np.abs(said.guard - guard) / said.expanded) < 1e-6
    assert said.p_conform == pytest.approx(inside, abs=4e-7)
    assert said.tur == pytest.approx(test_uncertainty_ratio(limits, k * u), rel=1e-6)
    assert np.array_equal(said.codes, statement_codes(errors, limits, said.guard))
    assert said.specific_risk == pytest.approx(specific_risk(said.codes, inside), abs=4e-7)


def test_a_point_is_judged_alike_alone_and_among_many():
    errors, lines, limits = many_points(2 * BLOCK + 5)
    together = judge_points(errors, lines, DOF, limits, RULES[3])
    for point in (0, BLOCK - 1, BLOCK, 2 * BLOCK + 4):
        one = slice(point, point + 1)
        alone = judge_points(errors[one], lines[one], DOF, limits[one], RULES[3])
        for name in ("u", "dof", "k", "expanded", "guard", "codes", "p_conform", "specific_risk", "tur"):
            assert getattr(alone, name)[0] == pytest.approx(getattr(together, name)[point], rel=1e-14, abs=1e-300), name


def test_points_may_have_their_own_degrees_of_freedom():
    errors, lines, limits = many_points(BLOCK + 3)
    own = np.tile(DOF, (errors.size, 1))
    own[-1, 2] = 2.0
    shared, single = (judge_points(errors, lines, dof, limits, RULES[1]) for dof in (DOF, own))
    assert single.k[:-1] == pytest.approx(shared.k[:-1], rel=1e-13)
    assert single.dof[-1] == pytest.approx(combine(lines[-1:], own[-1]).dof[0], rel=1e-13)
    assert single.dof[-1] < shared.dof[-1]
    with pytest.raises(ConformityInputError, match="for each point need shape"):
        judge_points(errors, lines, own[1:], limits, RULES[1])


def test_correlated_lines_reach_the_budget():
    tied = judge_points([0.0], [[3.0, -3.0]], [np.inf, np.inf], 1.0, RULES[0], correlation=[[1.0, 1.0], [1.0, 1.0]])
    assert tied.u[0] == 0.0
    assert tied.codes[0] == 1
    assert (tied.p_conform[0], tied.specific_risk[0], tied.tur[0]) == (1.0, 0.0, math.inf)


def test_known_errors_are_inside_or_outside():
    said = judge_points([0.5, 1.0, 1.5], np.zeros((3, 2)), np.inf, 1.0, RULES[3])
    assert said.p_conform.tolist() == [1.0, 1.0, 0.0]
    assert said.codes.tolist() == [1, 1, -1]
    assert said.specific_risk.tolist() == [0.0, 0.0, 0.0]


def test_a_one_sided_limit_forgives_the_other_side():
    both = judge_points([-2.0, 2.0], np.full((2, 1), 0.3), np.inf, 1.0, RULES[1])
    upper = judge_points([-2.0, 2.0], np.full((2, 1), 0.3), np.inf, 1.0, RULES[1], one_sided=True)
    assert both.codes.tolist() == [-1, -1]
    assert upper.codes.tolist() == [1, -1]
    assert upper.p_conform[0] == pytest.approx(1.0, abs=1e-12)


def test_no_points_give_no_judgements():
    assert judge_points([], np.empty((0, 3)), np.inf, 1.0, RULES[0]).codes.size == 0


@pytest.mark.parametrize(
    ("errors", "lines", "limits", "message"),
    [
        ([0.0, 1.0], [[1.0, 2.0]], 1.0, r"contributions \(points, lines\)"),
        ([0.0], [[]], 1.0, "at least one line"),
        ([math.nan], [[1.0]], 1.0, "error must be finite"),
        ([0.0], [[1.0]], [1.0, 2.0], "limits must be one for all"),
        ([0.0], [[1.0]], 0.0, "limit must be above zero"),
    ],
)
def test_points_that_cannot_be_judged_are_refused(errors, lines, limits, message):
    with pytest.raises(ConformityInputError, match=message):
        judge_points(errors, lines, np.inf, limits, RULES[0])


def test_a_contribution_that_is_no_number_is_refused():
    with pytest.raises(BudgetError):
        judge_points([0.0], [[math.nan]], np.inf, 1.0, RULES[0])


@settings(deadline=None)
@given(error=st.floats(-20, 20), scale=st.sampled_from([2.0**-12, 0.25, 2.0**9]), rule=st.sampled_from(RULES))
def test_the_unit_does_not_matter(error, scale, rule):
    lines = np.array([[1.0, 0.4, 0.7]])
    dof = [np.inf, 3.0, 20.0]
    plain = judge_points([error], lines, dof, 5.0, rule)
    other = judge_points([error * scale], lines * scale, dof, 5.0 * scale, rule)
    assert plain.codes[0] == other.codes[0]
    assert other.p_conform[0] == pytest.approx(plain.p_conform[0], abs=1e-14)
    assert other.guard[0] == pytest.approx(plain.guard[0] * scale, rel=1e-12)
