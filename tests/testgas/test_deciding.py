"""What a bottle can decide."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.metrology.conformity import decision_rule, statement_of
from flueproof.testgas.blend import GasComponent
from flueproof.testgas.deciding import can_decide, largest_bottle_u
from flueproof.testgas.errors import DecidingError

RULES = [decision_rule(name) for name in ("simple", "guarded-U", "risk-2", "specific-2")]


@pytest.mark.parametrize("other_u", [0.0, 0.5])
def test_a_five_percent_bottle_can_never_say_conform_against_five_percent_under_guard_u(other_u):
    bottle = GasComponent.from_accuracy("co", "ppm", 100.0, 5.0)
    power = can_decide(bottle.u, other_u, 5.0, decision_rule("guarded-U"), unit="ppm")
    assert not power.can_conform
    assert power.share_pct == pytest.approx(200.0 / math.sqrt(3.0))
    assert "no reading on it can be called conform" in power.in_words
    as_normal = GasComponent.from_expanded("co", "ppm", 100.0, 5.0)
    largest = can_decide(as_normal.u, 0.5, 5.0, decision_rule("guarded-U")).largest_conform
    assert largest is None


@given(st.sampled_from(RULES), st.floats(0.01, 3.0), st.floats(0.0, 2.0))
def test_the_edges_are_where_the_statement_changes(rule, u_bottle, other_u):
    power = can_decide(u_bottle, other_u, 5.0, rule)
    above = power.smallest_not_conform
    assert statement_of(above * (1 + 1e-9) + 1e-12, 5.0, power.guard) == "not-conform"
    assert statement_of(above * (1 - 1e-9), 5.0, power.guard) != "not-conform"
    if power.largest_conform is None:
        assert statement_of(0.0, 5.0, power.guard) == "undecided"
    elif power.largest_conform > 1e-6:
        assert statement_of(power.largest_conform * (1 - 1e-9), 5.0, power.guard) == "conform"
        assert statement_of(power.largest_conform * (1 + 1e-9) + 1e-12, 5.0, power.guard) != "conform"


@pytest.mark.parametrize("rule", RULES[1:], ids=lambda rule: rule.name)
def test_the_largest_bottle_uncertainty_is_the_edge(rule):
    u = largest_bottle_u(0.5, 10.0, rule, 6.0)
    assert can_decide(u, 0.5, 10.0, rule).largest_conform >= 6.0
    assert can_decide(u * 1.001, 0.5, 10.0, rule).largest_conform < 6.0


def test_under_simple_acceptance_any_bottle_will_do_and_beyond_the_limit_none():
    assert largest_bottle_u(0.5, 10.0, RULES[0], 6.0) == math.inf
    assert largest_bottle_u(0.5, 10.0, RULES[0], 10.1) is None


def test_what_cannot_be_is_refused():
    for u_bottle, other_u, limit in ((1.0, 0.0, 0.0), (-1.0, 0.0, 5.0), (math.nan, 0.0, 5.0), (0.0, 0.0, 5.0)):
        with pytest.raises(DecidingError):
            can_decide(u_bottle, other_u, limit, RULES[0])
    with pytest.raises(DecidingError):
        largest_bottle_u(0.5, 5.0, RULES[0], -1.0)
