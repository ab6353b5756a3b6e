import dataclasses

from flueproof.bench.judgement import BudgetLine
from flueproof.papers.content.uncertainty import budget_rows, limit_rows, rule_words


def test_each_quantity_shows_the_point_where_u_eats_most_of_the_limit(judgement, profile):
    rows = budget_rows(judgement.points, profile, "si", {"cyl-co-500": "A"})
    assert [row["point"].split()[0] for row in rows] == ["O₂", "CO", "Stack", "Draft"]
    co = rows[1]
    assert co["point"] == "CO 502.0 ppm, A, tip"
    assert co["parts"].startswith("test gas certificate 2.29; settling 1.14")
    assert (co["dof"], co["k"], co["U"]) == ("∞", "2.00", "5.7 ppm")


def test_a_finite_number_of_degrees_of_freedom_is_printed(sample, profile):
    point = sample.point("co", 502.0, 500.0, dof=17.4, k=2.16)
    assert budget_rows((point,), profile, "si", {})[0]["dof"] == "17"


def test_contributions_below_a_hundredth_of_the_variance_are_left_out_of_the_summary(sample, profile):
    lines = (BudgetLine("test gas certificate", 2.5), BudgetLine("display step", 0.2))
    (row,) = budget_rows((sample.point("co", 502.0, 500.0, u=2.51, U=5.0, budget=lines),), profile, "si", {})
    assert row["parts"] == "test gas certificate 2.50"


def test_limits_say_of_what_and_from_where(judgement, profile):
    rows = {row["quantity"]: row for row in limit_rows(judgement.points, profile, "us", frozenset({"draft"}))}
    assert rows["CO"]["limit"] == "the larger of ±10 ppm and ±5 % of reference"
    assert rows["CO"]["source"] == "OIML R 144:2013, 4.3"
    assert rows["CO"]["phases"] == "as found and as left"
    assert rows["Stack temperature"]["limit"] == "±5.4 °F"
    assert rows["Draft"]["owner"]
    assert not rows["CO"]["owner"]


def test_a_limit_that_is_not_the_profiles_is_given_at_its_point(sample, profile):
    point = sample.point("co", 502.0, 500.0, limit=12.0, limit_source="order")
    (row,) = limit_rows((point,), profile, "si", frozenset({"co"}))
    assert row["limit"] == "±12 ppm at 502 ppm"


def test_the_rule_stands_in_words(judgement):
    assert "too close to call" in rule_words(judgement)
    agreed = dataclasses.replace(judgement, decision_rule={"name": "simple", "words": "As agreed in writing."})
    assert rule_words(agreed) == "As agreed in writing."
