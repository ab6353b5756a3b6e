"""Decision rules, guard bands and statements."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import special

from flueproof.metrology import conformity
from flueproof.metrology.conformity import (
    RULE_NAMES,
    DecisionRule,
    conformance_probability,
    decision_rule,
    guard_band,
    guard_multiplier,
    normalized_error,
    rule_in_words,
    statement_codes,
    statement_codes_between,
    statement_name,
    statement_of,
)
from flueproof.metrology.errors import ConformityInputError, DecisionRuleError

ALL_RULES = [DecisionRule(name, 0.5 if name == "guarded-rU" else None) for name in RULE_NAMES]


class TestRules:
    def test_an_unknown_name_is_refused_with_the_allowed_ones(self):
        with pytest.raises(DecisionRuleError, match="'strict' is not known; allowed: simple, guarded-U"):
            decision_rule("strict")

    @pytest.mark.parametrize("r", [None, -0.1, 11.0, math.nan])
    def test_a_guard_multiple_outside_its_range_is_refused(self, r):
        with pytest.raises(DecisionRuleError, match="from 0 to 10"):
            decision_rule("guarded-rU", r)

    def test_a_multiple_for_a_rule_without_one_is_refused(self):
        with pytest.raises(DecisionRuleError, match="takes no r"):
            decision_rule("simple", 1.0)

    def test_another_risk_than_two_percent_is_refused_for_the_rule_named_after_it(self):
        with pytest.raises(DecisionRuleError, match=r"stands for a risk of 0\.02"):
            DecisionRule("risk-2", max_risk=0.01)

    @pytest.mark.parametrize("max_risk", [0.0, 0.5, -0.1, math.nan])
    def test_a_risk_that_is_none_is_refused(self, max_risk):
        with pytest.raises(DecisionRuleError, match=r"above 0 and below 0\.5"):
            DecisionRule("specific-2", max_risk=max_risk)

    def test_each_rule_is_put_in_words_with_its_guard_and_a_publication(self):
        texts = [rule_in_words(rule) for rule in ALL_RULES]
        assert len(set(texts)) == len(RULE_NAMES)
        assert all("JCGM 106:2012" in text and "w =" in text for text in texts)
        assert "0.5 U" in texts[2]
        assert "1 %" in rule_in_words(DecisionRule("specific-2", max_risk=0.01))


class TestGuardBand:
    def test_each_rule_has_its_own_guard(self):
        u, limit = 1.0, 6.0
        guards = [guard_band(rule, limit, u) for rule in ALL_RULES]
        multiplier = 1.04 - math.exp(0.38 * math.log(3.0) - 0.54)
        assert guards == pytest.approx([0.0, 2.0, 1.0, 2.0 * multiplier, special.ndtri(0.98)], rel=1e-14)

    def test_the_guard_follows_the_coverage_factor_given(self):
        assert guard_band(decision_rule("guarded-U"), 10.0, 1.5, dof=4, k=2.87) == pytest.approx(1.5 * 2.87)

    def test_few_degrees_of_freedom_widen_the_specific_guard(self):
        few = guard_band(decision_rule("specific-2"), 10.0, 1.0, dof=3.0)
        assert few == pytest.approx(special.stdtrit(3.0, 0.98))

    def test_a_test_uncertainty_ratio_above_four_point_six_needs_no_guard(self):
        assert guard_band(decision_rule("risk-2"), 1.0, 0.1) == 0.0
        assert guard_multiplier(4.59) > 0.0

    @pytest.mark.parametrize("rule", ALL_RULES, ids=RULE_NAMES)
    def test_no_uncertainty_needs_no_guard(self, rule):
        assert guard_band(rule, 1.0, 0.0) == 0.0

    @pytest.mark.parametrize("rule", ALL_RULES, ids=RULE_NAMES)
    def test_an_array_gives_what_its_elements_give(self, rule):
        limits, us, dofs, ks = np.array([1.0, 5.0, 2.0]), np.array([0.3, 0.0, 0.9]), np.array([3.5, 9, np.inf]), 2.1
        together = guard_band(rule, limits, us, dofs, ks)
        singly = [guard_band(rule, *each, ks) for each in zip(limits, us, dofs, strict=True)]
        assert np.array_equal(np.broadcast_to(together, 3), singly)

    @pytest.mark.parametrize("limit", [0.0, -1.0, math.nan])
    def test_a_limit_that_is_none_is_refused(self, limit):
        with pytest.raises(ConformityInputError, match="limit must be above zero"):
            guard_band(decision_rule("simple"), limit, 1.0)

    def test_a_negative_uncertainty_is_refused_with_its_position(self):
        with pytest.raises(ConformityInputError, match=r"must not be negative; got -0\.1 at position 1"):
            guard_band(decision_rule("simple"), 1.0, [0.1, -0.1])


class TestStatements:
    @pytest.mark.parametrize(
        ("error", "expected"),
        [(0.0, "conform"), (0.75, "conform"), (-0.75, "conform"), (0.7501, "undecided"), (-1.0, "undecided"),
         (1.25, "undecided"), (1.2501, "not-conform"), (-9.0, "not-conform")],
    )  # fmt: skip
    def test_three_zones_with_the_edges_on_the_inner_side(self, error, expected):
        assert statement_of(error, 1.0, 0.25) == expected

    def test_a_guard_wider_than_the_limit_can_never_say_conform(self):
        assert statement_of(0.0, 1.0, 1.1) == "undecided"

    def test_a_one_sided_limit_looks_at_its_own_side_only(self):
        codes = statement_codes_between([-50.0, 0.8, 1.0, 1.3], None, 1.0, 0.25)
        assert codes.tolist() == [1, 0, 0, -1]
        assert statement_codes_between([2.0, 0.5], 1.0, None, 0.25).tolist() == [1, -1]
        assert codes.dtype == np.int8

    def test_codes_have_the_names_of_the_record(self):
        assert [statement_name(code) for code in (1, 0, -1)] == ["conform", "undecided", "not-conform"]

    def test_an_error_that_is_no_number_is_refused(self):
        with pytest.raises(ConformityInputError, match="error must be finite"):
            statement_codes([0.0, math.nan], 1.0, 0.0)

    def test_limits_the_wrong_way_round_are_refused(self):
        with pytest.raises(ConformityInputError, match="below the upper one"):
            statement_codes_between(0.0, 1.0, -1.0, 0.0)

    @settings(deadline=None)
    @given(
        error=st.floats(-1e3, 1e3, allow_subnormal=False),
        limit=st.floats(1e-3, 1e3),
        guard=st.floats(0, 1e3, allow_subnormal=False),
        scale=st.sampled_from([2.0**-20, 0.5, 2.0**10]),
    )
    def test_sign_and_unit_do_not_matter_and_a_wider_guard_never_decides_more(self, error, limit, guard, scale):
        code = int(statement_codes(error, limit, guard))
        assert int(statement_codes(-error, limit, guard)) == code
        assert int(statement_codes(error * scale, limit * scale, guard * scale)) == code
        assert int(statement_codes(error, limit, 2.0 * guard)) in (code, 0)


class TestConformanceProbability:
    def test_a_half_at_a_single_limit(self):
        assert conformance_probability(1.0, 0.1, None, 1.0) == 0.5

    def test_an_exactly_known_error_is_in_or_out(self):
        assert conformance_probability([1.0, 1.01], 0.0, -1.0, 1.0).tolist() == [1.0, 0.0]

    @pytest.mark.parametrize("dof", [1.0, 4.5, 30.0, np.inf])
    def test_complement_of_both_tails(self, dof):
        inside = conformance_probability(0.3, 0.5, -1.0, 1.0, dof)
        tails = conformance_probability(0.3, 0.5, 1.0, None, dof) + conformance_probability(0.3, 0.5, None, -1.0, dof)
        assert inside == pytest.approx(1.0 - tails, abs=1e-14)

    def test_few_degrees_of_freedom_follow_the_t_distribution(self):
        assert conformance_probability(2.0, 0.5, None, 3.0, dof=4.0) == pytest.approx(special.stdtr(4.0, 2.0))

    def test_a_far_tail_keeps_its_digits(self):
        assert conformance_probability(20.0, 1.0, None, 0.0) == pytest.approx(special.ndtr(-20.0), rel=1e-13)

    def test_finite_and_infinite_degrees_of_freedom_mix(self):
        mixed = conformance_probability(0.5, 0.4, -1.0, 1.0, [5.0, np.inf])
        assert mixed[0] == conformance_probability(0.5, 0.4, -1.0, 1.0, 5.0)
        assert mixed[1] == conformance_probability(0.5, 0.4, -1.0, 1.0)

    @settings(deadline=None)
    @given(error=st.floats(-5, 5), u=st.floats(1e-3, 10), dof=st.sampled_from([1.5, 8.0, 50.0, np.inf]))
    def test_it_is_symmetric_and_a_wider_limit_never_lowers_it(self, error, u, dof):
        narrow = conformance_probability(error, u, -1.0, 1.0, dof)
        assert narrow == conformance_probability(-error, u, -1.0, 1.0, dof)
        assert 0.0 <= narrow <= conformance_probability(error, u, -1.1, 1.1, dof) + 1e-15


class TestRatioAndNormalizedError:
    def test_limit_over_expanded_uncertainty(self):
        assert conformity.test_uncertainty_ratio(25.0, 5.0) == 5.0
        assert conformity.test_uncertainty_ratio(25.0, 0.0) == math.inf

    def test_an_agreement_without_any_uncertainty_is_refused(self):
        with pytest.raises(ConformityInputError, match="both expanded uncertainties are zero"):
            normalized_error(1.0, 1.0, 0.0, 0.0)
