"""Straight or not over the test gases (ISO/TS 28037:2010, 7.3; at least three contents: OIML R 144-1, 7.2.2.2)."""

import dataclasses
import math

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.linearity import linearity_checks
from flueproof.bench.judgement import BudgetLine, PointJudgement

PROFILE = shipped_profile("two-cell-residential")


def point(reference, settled, *, channel="co", u=1.0, bottle=None, **more):
    bottle = bottle or f"b{reference}"
    u_bottle = 0.005 * max(reference, 1.0)
    made = PointJudgement(
        "s1", "as-found", "instrument", channel, "ppm", reference, bottle, u_bottle, settled, u, None,
        settled - reference, math.hypot(u, u_bottle), None, 2.0, 2 * math.hypot(u, u_bottle), 50.0, "reference",
        "test", 0.0, "conform", 1.0, 0.0, 5.0, (BudgetLine("noise", u),),
    )  # fmt: skip
    return dataclasses.replace(made, **more)


def check_of(*points, leak="none"):
    found = linearity_checks(points, PROFILE, leak)
    return found[0] if found else None


STRAIGHT = (point(100.0, 95.0), point(502.0, 477.0), point(1500.0, 1425.0))


def test_points_on_a_line_are_straight_and_give_its_gain():
    found = check_of(*STRAIGHT)
    assert found.ok is True
    assert found.detail["slope"] == pytest.approx(0.95, abs=0.01)
    assert found.detail["correction"]["gain"] == pytest.approx(found.detail["slope"])


def test_a_cell_that_saturates_is_not_straight_and_gets_no_correction():
    found = check_of(point(100.0, 99.0), point(502.0, 480.0), point(1500.0, 1200.0))
    assert found.ok is False
    assert "correction" not in found.detail
    assert "not straight" in found.text


def test_two_contents_show_nothing_for_a_channel_zeroed_in_air():
    assert check_of(*STRAIGHT[:2]) is None
    assert check_of(STRAIGHT[0], STRAIGHT[1], dataclasses.replace(STRAIGHT[1], step="s2")) is None


def test_air_is_one_more_content_for_o2():
    """A cell that reads air right and is off in between is found (issue 2, bench)."""

    def o2(reference, shown):
        return point(reference, shown, channel="o2", u=0.03, unit="%")

    assert check_of(o2(0.0, 0.0), o2(4.0, 4.05)).ok is True
    assert check_of(o2(0.0, 0.0), o2(10.0, 12.0)).ok is False
    assert check_of(o2(4.0, 4.0)) is None


def test_with_air_coming_in_only_the_inlet_is_compared():
    at_tip = tuple(dataclasses.replace(one, feed="tip") for one in STRAIGHT)
    assert check_of(*at_tip) is not None
    assert check_of(*at_tip, leak="probe") is None
    assert check_of(*STRAIGHT, leak="probe") is not None


@pytest.mark.parametrize("change", [{"caveat": "clamped"}, {"probe": "shop", "feed": "tip"}, {"error": math.nan}])
def test_bounds_and_foreign_probes_are_left_out(change):
    assert check_of(*STRAIGHT[:2], dataclasses.replace(STRAIGHT[2], **change)) is None


def test_one_bottle_used_twice_is_one_error():
    """Two readings on one bottle agree with each other however far the bottle is off."""
    twice = (point(100.0, 95.0), point(502.0, 477.0, bottle="b"), point(502.0, 477.5, bottle="b", feed="tip"))
    assert check_of(*twice, point(1500.0, 1425.0)).ok is True


def test_cans_of_one_lot_move_together():
    """JCGM 100:2008, F.1.2.3: one cause shifts both, so a shift of both is no bend."""

    def of_lot(reference, settled, lot):
        return point(reference, settled, u=0.3, reference_u=6.0, budget=(BudgetLine("gas", 6.0, shared=lot),))

    shifted = ((100.0, 100.0), (502.0, 512.0), (503.0, 513.0))
    together = check_of(*(of_lot(*pair, "lot 7") for pair in shifted))
    apart = check_of(*(of_lot(*pair, f"bottle {pair[0]}") for pair in shifted))
    assert together.detail["chi_square"] != pytest.approx(apart.detail["chi_square"], rel=1e-3)
