"""What must stand in the first lines, because many readers see no more."""

import math

import pytest

from flueproof.bench.judgement import CheckResult
from flueproof.papers.content.summary import found_in_words, joint_words, point_in_words, share


def test_a_co_failure_as_found_is_in_words_on_a_certificate_that_conforms_as_left(judgement, profile):
    said = found_in_words(judgement, profile, "si")
    assert said["head"] == "As found: outside limits."
    assert said["lines"] == ["CO read 11 % low: 447.6 ppm on gas with 502.0 ppm; limit ±25.1 ppm."]
    assert "Look again at those jobs" in said["meaning"]


def test_nothing_is_said_where_all_conformed(sample, profile):
    good = sample.judgement_of(points=(sample.point("co", 502.0, 500.0),), as_left=None)
    assert found_in_words(good, profile, "si") is None


def test_a_point_for_information_does_not_fail_the_unit(sample, profile):
    aside = sample.point("co", 502.0, 447.6, counts=False)
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, 500.0), aside))
    assert found_in_words(judgement, profile, "si") is None


@pytest.mark.parametrize(("leak", "told"), [("probe", True), ("unlocated", True), ("none", False)])
def test_a_leak_as_found_is_told_even_where_all_points_conformed(sample, profile, leak, told):
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, 500.0),), gas_path={"leak": leak})
    said = found_in_words(judgement, profile, "si")
    assert (said is not None) == told
    assert not told or (said["head"] == "As found: not in order." and "leak" in said["lines"][0])


def test_a_failed_check_as_found_is_told_and_one_as_left_is_not(sample, profile):
    spent = "CO shows 15.1839 ppm on NO: its filter is spent."
    for phase, told in (("as-found", True), ("as-left", False)):
        check = CheckResult("s", phase, "cross-sensitivity", "co", ok=False, text=spent)
        judgement = sample.judgement_of(points=(sample.point("co", 502.0, 500.0),), checks=(check,))
        said = found_in_words(judgement, profile, "si")
        assert (said is not None) == told
        assert not told or said["lines"] == ["CO shows 15.18 ppm on NO: its filter is spent."]


def test_without_as_found_points_that_is_said_instead_of_left_out(sample, profile):
    left = sample.point("co", 502.0, 500.0, phase="as-left")
    assert found_in_words(sample.judgement_of(points=(left,)), profile, "si")["head"] == "As found: not measured."


def test_too_close_is_no_failure_and_gives_no_alarm(sample, profile):
    close = sample.point("co", 502.0, 480.0, statement="undecided")
    said = found_in_words(sample.judgement_of(points=(close,)), profile, "si")
    assert said["head"] == "As found: too close to call."
    assert said["meaning"] == ""


@pytest.mark.parametrize(
    ("channel", "reference", "settled", "words"),
    [
        ("co", 502.0, math.nan, "CO gave no reading on gas with 502.0 ppm."),
        ("co", 502.0, 3.0, "CO hardly answered: 3.0 ppm on gas with 502.0 ppm; limit ±25.1 ppm."),
        ("o2", 0.0, 1.2, "O₂ read too high: 1.200 % on gas with 0.000 %; limit ±0.500 %."),
        ("stack", 200.0, 190.0, "Stack temperature read too low: 374.0 °F at 392.0 °F; limit ±5.4 °F."),
    ],
)
def test_each_kind_of_fault_has_its_sentence(sample, profile, channel, reference, settled, words):
    point = sample.point(channel, reference, settled, statement="not-conform")
    assert point_in_words(point, profile, "us") == words


class TestJcgm106Clause7:
    """JCGM 106:2012, 7 and 9.5: the probability is told where it is known and no point fails."""

    def test_the_joint_probability_is_one_sentence(self, sample):
        joint = {"as-left": {"points": 5, "p_all_conform": 0.7659}}
        (said,) = joint_words(sample.judgement_of(joint=joint))
        assert "All 5 points together, as left, lie inside their limits with a probability of 76.6 %" in said

    def test_it_is_left_out_where_open_or_where_a_point_fails(self, sample):
        assert joint_words(sample.judgement_of(joint={"as-left": {"points": 5, "p_all_conform": None}})) == []
        bad = sample.judgement_of(
            points=(sample.point("co", 502.0, 447.6),), as_left=None, joint={"as-found": {"p_all_conform": 0.0}}
        )
        assert joint_words(bad) == []

    def test_global_risk_is_told_where_earlier_visits_make_it_known(self, sample):
        point = sample.point("co", 502.0, 500.0, global_risk={"false_accept": 0.008, "false_reject": 0.051})
        (said,) = joint_words(sample.judgement_of(points=(point,), as_left=None))
        assert "at most 0.8 % are outside and called conforming" in said
        assert "at most 5.1 % are inside" in said

    def test_no_share_is_a_certainty(self):
        assert [share(p) for p in (1.0, 0.99871, 0.5, 0.0)] == [
            "more than 99.9 %", "99.9 %", "50.0 %", "less than 0.1 %",
        ]  # fmt: skip
