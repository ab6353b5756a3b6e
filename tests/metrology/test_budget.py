import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.metrology.budget import Budget, Component, combined_uncertainty, component_of, correlation_matrix
from flueproof.metrology.distributions import DisplayStep, TypeA
from flueproof.metrology.errors import BudgetError, EmptyBudgetError, LevelError

lines_of = st.lists(
    st.tuples(st.floats(1e-3, 1e3), st.floats(-5.0, 5.0), st.floats(1.0, 100.0), st.sampled_from(["bottle", None])),
    min_size=1, max_size=6,
)  # fmt: skip


def budget_of(rows):
    return Budget(tuple(Component(f"line {at}", u, dof, c, shared=tag) for at, (u, c, dof, tag) in enumerate(rows)))


@given(rows=lines_of)
def test_shares_add_to_one(rows):
    got = combined_uncertainty(budget_of(rows))
    if got.u > 1e-9 * max(abs(u * c) for u, c, _, _ in rows):
        assert sum(got.shares) == pytest.approx(1.0, abs=1e-6)
    assert got.expanded == pytest.approx(got.k * got.u)


@given(rows=lines_of)
def test_lines_of_one_cause_add_as_signed_numbers(rows):
    bottle = sum(u * c for u, c, _, tag in rows if tag)
    rest = sum((u * c) ** 2 for u, c, _, tag in rows if not tag)
    assert combined_uncertainty(budget_of(rows)).u == pytest.approx(math.sqrt(bottle**2 + rest), rel=1e-9, abs=1e-9)


def test_a_repeat_on_one_bottle_does_not_shrink_the_share_of_the_bottle():
    def mean_of_two(tag):
        lines = [Component(f"bottle {n}", 4.0, sensitivity=0.5, shared=tag) for n in (1, 2)]
        lines += [Component(f"reading {n}", 1.0, sensitivity=0.5) for n in (1, 2)]
        return combined_uncertainty(Budget(tuple(lines))).u

    assert mean_of_two("bottle A") == pytest.approx(math.sqrt(16.0 + 0.5))
    assert mean_of_two(None) == pytest.approx(math.sqrt(8.0 + 0.5))


def test_tip_minus_instrument_cancels_the_bottle():
    lines = (
        Component("bottle at the tip", 4.0, 9.0, 1.0, shared="bottle A"),
        Component("bottle at the inlet", 4.0, 9.0, -1.0, shared="bottle A"),
        component_of("tip reading", TypeA(1.0, 4)), component_of("step", DisplayStep(1.0)),
    )  # fmt: skip
    got = combined_uncertainty(Budget(lines))
    assert got.u == pytest.approx(math.sqrt(0.25 + 1 / 12))
    assert got.shares[:2] == (0.0, 0.0)
    assert got.dof == pytest.approx(3.0 * (0.25 + 1 / 12) ** 2 / 0.25**2)


def test_a_pair_given_for_one_line_holds_for_all_of_its_cause():
    lines = (Component("a", 1.0, shared="x"), Component("b", 1.0, shared="x"), Component("c", 1.0))
    matrix = correlation_matrix(Budget(lines, (("a", "c", 0.5),)))
    assert matrix.tolist() == [[1.0, 1.0, 0.5], [1.0, 1.0, 0.5], [0.5, 0.5, 1.0]]
    assert combined_uncertainty(Budget(lines, (("a", "c", 0.5),))).u == pytest.approx(math.sqrt(4 + 1 + 2))


def test_a_budget_without_ties_has_no_matrix():
    assert correlation_matrix(Budget((Component("a", 1.0, shared="x"), Component("b", 1.0)))) is None


def test_nothing_uncertain_gives_zero_at_k_2():
    got = combined_uncertainty(Budget((Component("a", 0.0, 3.0),)))
    assert (got.u, got.k, got.expanded, got.shares) == (0.0, 2.0, 0.0, (0.0,))


@pytest.mark.parametrize(
    "wrong", [{"u": -1.0}, {"u": math.nan}, {"u": 1.0, "dof": 0.0}, {"u": 1.0, "sensitivity": math.inf}]
)
def test_a_line_that_cannot_be_names_itself(wrong):
    with pytest.raises(BudgetError, match="test gas"):
        Component("test gas", **wrong)


def test_a_budget_that_cannot_be_says_why():
    a, b = Component("a", 1.0, shared="x"), Component("b", 1.0, shared="x")
    with pytest.raises(EmptyBudgetError, match="at least one"):
        Budget(())
    with pytest.raises(BudgetError, match="twice"):
        Budget((a, a))
    with pytest.raises(BudgetError, match="'c'"):
        Budget((a, b), (("a", "c", 0.5),))
    with pytest.raises(BudgetError, match="same cause"):
        combined_uncertainty(Budget((a, b), (("a", "b", 0.5),)))
    with pytest.raises(LevelError, match=r"0\.95 for 95 %"):
        combined_uncertainty(Budget((a,)), 95.0)
