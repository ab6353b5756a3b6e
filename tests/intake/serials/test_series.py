import numpy as np
import pytest

from flueproof.intake.serials.series import learn_series


@pytest.fixture(scope="module")
def series():
    hollin = [("Hollin", f"{year}{number:05d}", number % 90) for year in (21, 22) for number in range(100, 400)]
    return learn_series([*hollin, ("Verdane", "VL-100200", 1), ("Verdane", "VL-100201", 1), ("Verdane", "", 2)])


def test_makes_are_counted_without_empty_plates(series):
    assert series.makes == {"Hollin": 600, "Verdane": 2}


def test_shares_of_the_groups_of_a_make_are_the_whole(series):
    for groups in series.groups.values():
        assert sum(group.share for group in groups) == pytest.approx(1)
        assert all(group.profile.sum(axis=1) == pytest.approx(np.ones(len(group.profile))) for group in groups)


def test_a_place_where_all_are_alike_expects_that_character(series):
    year_21 = max(series.groups["Hollin"], key=lambda group: group.share * group.profile[1, 1])
    assert year_21.profile[0, 2] > 0.98
    assert year_21.profile[6, 3] == pytest.approx(0.1, abs=0.03)


def test_rare_beginnings_share_a_group():
    many = learn_series(("Make", f"{a}{b}123", 1) for a in "ABCDEFGH" for b in "0123456789")
    assert len(many.groups["Make"]) == 42


def test_the_runs_of_the_serials_are_counted(series):
    assert (series.runs["VL10020?"], series.runs["210012?"]) == (2, 10)


def test_beginnings_seen_once_tell_how_many_were_never_seen(series):
    assert series.unknown == pytest.approx(1 / 604)
    assert learn_series([("A", "12345", 1), ("B", "X9871", 2), ("B", "X9872", 2)]).unknown == pytest.approx(2 / 5)
    assert learn_series([]).unknown == 0.5
    assert series.lengths == {7: 600 / 602, 8: 2 / 602}
