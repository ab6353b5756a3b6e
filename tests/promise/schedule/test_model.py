"""What is planned."""

import pytest

from flueproof.promise.schedule.model import Job, Placed, PlanError, Shop, Situation, Step, Technician, cut, plan_of

HOURS = ((0, 100), (105, 205))


@pytest.mark.parametrize(
    ("away", "left"),
    [
        ([(20, 30)], ((0, 20), (30, 100), (105, 205))),
        ([(0, 100)], ((105, 205),)),
        ([(50, 150)], ((0, 50), (150, 205))),
        ([(300, 400)], HOURS),
        ([(10, 20), (15, 40)], ((0, 10), (40, 100), (105, 205))),
        ([(30, 30)], HOURS),
    ],
)
def test_windows_without_times_away(away, left):
    assert cut(HOURS, away) == left


def test_somebody_away_leaves_the_others_as_they_are():
    shop = Shop(tuple(Technician(name, frozenset({"bench"}), HOURS) for name in ("Ann", "Bo")), (), HOURS)
    ill = shop.without("Ann", [(0, 205)])
    assert [each.windows for each in ill.technicians] == [(), HOURS]
    with pytest.raises(PlanError, match="'Zoe'"):
        shop.without("Zoe", [])


def test_minutes_left_are_those_of_the_steps_not_finished():
    job = Job("J", (Step("a", 10, 5), Step("b", 20, 7), Step("c", 1)), finished=1)
    assert (job.minutes, job.hands_on) == (28, 21)


def test_a_plan_knows_ends_and_lists_of_people_stations_and_jobs():
    jobs = (Job("J", (Step("a", 10), Step("b", 10, station="gas"))), Job("K", (), release=7))
    first, second = Placed("J", 0, 0, 10, 10, "Ann"), Placed("J", 1, 10, 20, 20, "Ann", "gas 1")
    plan = plan_of(Situation(Shop((), (), HOURS), jobs), [second, first])
    assert plan.ends == {"J": 20, "K": 7}
    assert plan.of_technician("Ann") == plan.of_job("J") == [first, second]
    assert plan.of_station("gas 1") == [second]
    assert plan.situation.shop.horizon == 205
