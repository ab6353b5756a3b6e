import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.bench.judgement import BudgetLine, PointJudgement
from flueproof.bench.next_test.repeating import chance_of_deciding, is_close
from flueproof.metrology.conformity import decision_rule

RULE = decision_rule("guarded-U")


def point(error, bottle_u, scatter, limit=25.0, repeats=1):
    lines = (BudgetLine("test gas certificate", bottle_u, None, "normal", "b"),
             BudgetLine("repeatability", scatter / repeats**0.5))  # fmt: skip
    u = float(np.hypot(bottle_u, scatter / repeats**0.5))
    return PointJudgement(
        step="s", phase="as-found", feed="tip", channel="co", unit="ppm", reference=500.0, reference_id="b",
        reference_u=bottle_u, settled=500.0 + error, settled_u=scatter, displayed_at_hold=None, error=error, u=u,
        dof=None, k=2.0, U=2 * u, limit=limit, limit_of="reference", limit_source="", guard=2 * u,
        statement="undecided", p_conform=0.5, risk=0.5, tur=1.0, budget=lines, repeats=repeats,
    )  # fmt: skip


def test_with_a_perfect_repeat_the_bottle_decides_alone():
    assert chance_of_deciding(point(5.0, 2.0, 0.0), RULE) == 1.0
    assert chance_of_deciding(point(23.0, 2.0, 0.0), RULE) == 0.0


def test_the_chance_agrees_with_drawing_the_second_application():
    now = point(12.0, 3.0, 6.0)
    generator = np.random.default_rng(1)
    second = 12.0 + np.sqrt(2.0) * 6.0 * generator.standard_normal(200_000)
    mean = (12.0 + second) / 2.0
    guard = 2.0 * np.hypot(3.0, 6.0 / np.sqrt(2.0))
    drawn = np.mean((np.abs(mean) <= 25.0 - guard) | (np.abs(mean) > 25.0 + guard))
    assert chance_of_deciding(now, RULE) == pytest.approx(drawn, abs=0.01)


@given(st.floats(0.0, 40.0), st.floats(0.1, 20.0), st.floats(0.0, 20.0), st.integers(1, 5))
def test_a_chance_is_a_probability(error, bottle_u, scatter, repeats):
    assert 0.0 <= chance_of_deciding(point(error, bottle_u, scatter, repeats=repeats), RULE) <= 1.0


def test_a_point_without_a_number_cannot_be_decided_by_a_repeat():
    assert chance_of_deciding(dataclasses.replace(point(1.0, 1.0, 1.0), error=float("nan")), RULE) == 0.0


@pytest.mark.parametrize(
    ("change", "close"),
    [
        ({"statement": "conform", "risk": 0.3}, True),
        ({"statement": "not-conform", "risk": 0.06}, True),
        ({"statement": "conform", "risk": 0.01}, False),
        ({"statement": "undecided", "risk": 0.3}, False),
        ({"statement": "conform", "risk": 0.3, "repeats": 2}, False),
        ({"statement": "conform", "risk": 0.3, "caveat": "clamped"}, False),
    ],
)
def test_a_thin_statement_on_one_application_is_close(change, close):
    assert is_close(dataclasses.replace(point(20.0, 3.0, 3.0), **change)) is close


def test_a_statement_that_hangs_on_the_bottle_alone_is_not_worth_a_repeat():
    assert not is_close(dataclasses.replace(point(20.0, 6.0, 1.0), statement="conform", risk=0.3))
