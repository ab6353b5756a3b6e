"""ILAC-G8:09/2019 guard bands, the 2 % rule of Dobbert (2008), global risk tables, and the E_n score."""

import numpy as np
import pytest
from scipy import optimize, special

from flueproof.metrology.conformity import (
    conformance_probability,
    decision_rule,
    guard_band,
    guard_multiplier,
    normalized_error,
)
from flueproof.metrology.risk import global_risks, worst_false_accept


def bound_on_false_accept(r):
    guard = guard_band(decision_rule("guarded-rU", r), 1.0, 0.01)
    return 1.0 - conformance_probability(1.0 - guard, 0.01, None, 1.0)


def prior_u(in_tolerance):
    return 1.0 / special.ndtri((1.0 + in_tolerance) / 2.0)


class TestIlacG8:
    def test_bounds_of_the_decision_rule_table(self, published):
        case = published("ilac-g8-table")
        case.assert_agrees(pfa_bound=[bound_on_false_accept(r) for r in case.inputs["r"]])
        assert bound_on_false_accept(3.0) < 1e-6

    def test_the_iso_14253_guard_from_memory(self, published):
        case = published("ilac-g8-083u")
        exact = optimize.brentq(lambda r: bound_on_false_accept(r) - 0.05, 0.5, 1.0)
        case.assert_agrees(pfa_bound=bound_on_false_accept(case.inputs["r"]), r_for_exactly_5pct=exact, tight=2e-6)


class TestTwoPercentRule:
    def test_guard_multipliers(self, published):
        case = published("z540-method6-M")
        ratios = np.array(case.inputs["TUR"])
        guards = np.asarray(guard_band(decision_rule("risk-2"), 1.0, 0.5 / ratios))
        case.assert_agrees(M=guard_multiplier(ratios), A_over_L=1.0 - guards)

    def test_largest_false_accept_share_over_all_populations(self, published):
        case = published("z540-method6-maxpfa")
        ratios = case.inputs["TUR"]
        guarded = [
            100.0 * worst_false_accept(1.0, guard_band(decision_rule("risk-2"), 1.0, 0.5 / ratio), 0.5 / ratio)
            for ratio in ratios
        ]
        bare = [100.0 * worst_false_accept(1.0, 0.0, 0.5 / ratio) for ratio in case.inputs["TUR_no_guard"]]
        case.assert_agrees(max_pfa_guarded=guarded, max_pfa_no_guard=bare)
        assert max(guarded) <= case.expected["claim_bound_percent"]

    def test_a_population_seen_89_percent_inside_needs_no_guard(self, published):
        """Harben and Reese 2012, from memory: the share is the observed one, measured with the bench's own error."""
        case = published("z540-eopr-89")
        found = []
        for share in case.inputs["observed_EOPR"]:
            total = prior_u(share)
            u = total * np.linspace(0.005, 0.995, 400)
            risks = np.asarray(global_risks(1.0, 0.0, u, np.sqrt(total**2 - u**2)).false_accept)
            found.append(100.0 * risks.max())
        case.assert_agrees(max_pfa_percent=found)


ACCEPTANCE = {
    "global-risk-no-guard": lambda ratio: 0.0,
    "global-risk-method6": lambda ratio: guard_band(decision_rule("risk-2"), 1.0, 0.5 / ratio),
    "global-risk-wU": lambda ratio: guard_band(decision_rule("guarded-U"), 1.0, 0.5 / ratio),
    "global-risk-rss": lambda ratio: 1.0 - np.sqrt(1.0 - ratio**-2.0),
}


@pytest.mark.parametrize("name", ACCEPTANCE)
def test_global_risk_tables(published, name):
    case = published(name)
    spreads = prior_u(np.array(case.inputs["prior_in_tolerance_p"]))
    assert case.expected
    for key in case.expected:
        ratio = float(key.removeprefix("TUR_"))
        risks = global_risks(1.0, ACCEPTANCE[name](ratio), 0.5 / ratio, spreads)
        case.assert_agrees(**{key: 100.0 * np.stack([risks.false_accept, risks.false_reject], axis=-1)})


def test_normalized_error_of_two_laboratories(published):
    case = published("en-score")
    given = case.inputs
    case.assert_agrees(E_n=normalized_error(given["x_lab"], given["x_ref"], given["U_lab"], given["U_ref"]), tight=1e-9)
