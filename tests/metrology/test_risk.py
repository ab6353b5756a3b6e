"""Global and specific risks, the posterior, and guard bands from a risk."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, special

from flueproof.metrology.conformity import guard_multiplier
from flueproof.metrology.errors import ConformityInputError
from flueproof.metrology.risk import (
    global_risks,
    guard_for_global_risk,
    posterior,
    specific_risk,
    three_way_risks,
    worst_false_accept,
)


def risks_by_quadrature(limit, guard, u, prior_u, prior_mean):
    """JCGM 106:2012, A.15 to A.17, integrated numerically."""
    inner = limit - guard

    def accepted(true):
        return special.ndtr((inner - true) / u) - special.ndtr((-inner - true) / u) if inner > 0 else 0.0

    def density(true):
        return math.exp(-0.5 * ((true - prior_mean) / prior_u) ** 2) / prior_u / math.sqrt(2 * math.pi)

    reach = limit + abs(prior_mean) + 10 * prior_u
    edges = [-limit, -inner, inner, limit] if 0 < inner < limit else [-limit, 0.0, limit]

    def over(function, low, high):
        return integrate.quad(function, low, high, epsabs=1e-12, limit=400)[0]

    wrong = over(lambda true: accepted(true) * density(true), limit, reach)
    wrong += over(lambda true: accepted(true) * density(true), -reach, -limit)
    lost = sum(
        over(lambda true: (1 - accepted(true)) * density(true), low, high) for low, high in itertools.pairwise(edges)
    )
    return wrong, lost


class TestGlobalRisks:
    @pytest.mark.parametrize("prior_mean", [0.0, 0.3, -1.4])
    @pytest.mark.parametrize("u", [0.05, 0.2, 0.8])
    @pytest.mark.parametrize("guard", [0.0, 0.15, 0.7, 1.0, 1.3])
    def test_the_closed_form_agrees_with_the_integral(self, guard, u, prior_mean):
        for prior_u in (0.3, 0.6, 2.0):
            found = global_risks(1.0, guard, u, prior_u, prior_mean)
            assert found == pytest.approx(risks_by_quadrature(1.0, guard, u, prior_u, prior_mean), abs=2e-9)

    def test_plain_draws_give_the_same_shares(self):
        generator = np.random.default_rng(11)
        true = generator.normal(0.2, 0.6, 400_000)
        accepted = np.abs(true + generator.normal(0.0, 0.25, true.size)) <= 0.9
        found = global_risks(1.0, 0.1, 0.25, 0.6, 0.2)
        assert found.false_accept == pytest.approx(np.mean(accepted & (np.abs(true) > 1.0)), abs=0.0012)
        assert found.false_reject == pytest.approx(np.mean(~accepted & (np.abs(true) <= 1.0)), abs=0.0012)

    def test_an_exact_measurement_is_never_wrong(self):
        assert global_risks(1.0, 0.0, 0.0, 0.5) == pytest.approx((0.0, 0.0), abs=1e-9)

    def test_arrays_give_what_their_elements_give(self):
        guards, us, priors = np.array([0.0, 0.2, 1.5]), np.array([0.1, 0.3, 0.3]), np.array([0.5, 0.6, 0.7])
        together = global_risks(1.0, guards, us, priors)
        singly = [global_risks(1.0, *each) for each in zip(guards, us, priors, strict=True)]
        assert together.false_accept.tolist() == [each.false_accept for each in singly]
        assert together.false_reject.tolist() == [each.false_reject for each in singly]
        assert np.shape(global_risks(np.ones((2, 1)), 0.0, 0.1, [0.4, 0.5, 0.6]).false_accept) == (2, 3)

    @pytest.mark.parametrize("arguments", [(math.inf, 0, 0.1, 1), (1, -0.1, 0.1, 1), (1, 0, -0.1, 1), (1, 0, 0.1, 0)])
    def test_impossible_inputs_are_refused(self, arguments):
        with pytest.raises(ConformityInputError):
            global_risks(*arguments)

    @settings(max_examples=60, deadline=None)
    @given(
        guard=st.floats(0, 0.9),
        u=st.floats(0.01, 2.0),
        prior_u=st.floats(0.1, 5.0),
        prior_mean=st.sampled_from([0.0, 0.2, -0.7]),
    )
    def test_more_guard_means_fewer_false_accepts_and_more_false_rejects(self, guard, u, prior_u, prior_mean):
        less = global_risks(1.0, guard, u, prior_u, prior_mean)
        more = global_risks(1.0, guard + 0.05, u, prior_u, prior_mean)
        assert -1e-12 <= more.false_accept <= less.false_accept + 1e-12
        assert less.false_reject <= more.false_reject + 1e-12 <= 1.0 + 2e-12
        mirrored = global_risks(1.0, guard, u, prior_u, -prior_mean)
        assert mirrored == pytest.approx(less, abs=1e-12)


class TestThreeWayRisks:
    def test_shares_agree_with_plain_draws(self):
        generator = np.random.default_rng(12)
        true = generator.normal(0.0, 0.7, 400_000)
        shown = np.abs(true + generator.normal(0.0, 0.25, true.size))
        found = three_way_risks(1.0, 0.2, 0.25, 0.7)
        inside = np.abs(true) <= 1.0
        assert found.false_conform == pytest.approx(np.mean((shown <= 0.8) & ~inside), abs=0.0015)
        assert found.false_not_conform == pytest.approx(np.mean((shown > 1.2) & inside), abs=0.0015)
        assert found.undecided == pytest.approx(np.mean((shown > 0.8) & (shown <= 1.2)), abs=0.003)

    def test_without_a_guard_nothing_is_undecided(self):
        found = three_way_risks(1.0, 0.0, 0.25, 0.7)
        assert found.undecided == pytest.approx(0.0, abs=1e-14)
        assert (found.false_conform, found.false_not_conform) == pytest.approx(
            global_risks(1.0, 0.0, 0.25, 0.7), abs=1e-14
        )


class TestGuardFromRisk:
    @pytest.mark.parametrize("tur", [0.6, 0.8, 1.0, 1.5, 2.0, 3.0, 4.0, 4.55])
    def test_the_default_rule_keeps_false_accepts_at_two_percent_whatever_the_population(self, tur):
        guard = float(guard_multiplier(tur)) / tur
        assert worst_false_accept(1.0, guard, 0.5 / tur) <= 0.02

    def test_the_smallest_guard_meets_the_risk_exactly(self):
        guard = guard_for_global_risk(10.0, 2.5, 0.02)
        assert worst_false_accept(10.0, guard, 2.5) == pytest.approx(0.02, rel=1e-6)
        assert guard < float(guard_multiplier(2.0)) * 5.0

    def test_a_known_population_needs_less(self):
        guard = guard_for_global_risk(1.0, 0.25, 0.01, prior_u=0.5)
        assert global_risks(1.0, guard, 0.25, 0.5).false_accept == pytest.approx(0.01, rel=1e-6)
        assert guard < guard_for_global_risk(1.0, 0.25, 0.01)

    def test_a_good_bench_needs_none(self):
        assert guard_for_global_risk(1.0, 0.01, 0.02) == 0.0

    def test_a_risk_that_is_no_probability_is_refused(self):
        with pytest.raises(ConformityInputError, match=r"below 0\.5"):
            guard_for_global_risk(1.0, 0.1, 2.0)


class TestPosteriorAndSpecificRisk:
    def test_equal_knowledge_meets_in_the_middle(self):
        mean, u = posterior(4.0, 1.0, 2.0, 1.0)
        assert (mean, u) == pytest.approx((3.0, math.sqrt(0.5)))

    def test_nothing_known_before_changes_nothing(self):
        assert posterior(4.0, 1.0, 0.0, math.inf) == (4.0, 1.0)

    def test_zero_uncertainty_is_refused(self):
        with pytest.raises(ConformityInputError, match="above zero"):
            posterior(1.0, 0.0, 0.0, 1.0)

    def test_the_risk_is_that_of_the_statement_made(self):
        assert specific_risk([1, 0, -1], [0.9, 0.7, 0.2]) == pytest.approx([0.1, 0.3, 0.2])
