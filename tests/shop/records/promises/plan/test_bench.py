"""What the plan is made from: who waits for what, parts and their dates, work that runs, hours and days off."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Application, DayOff, Station, StationOut
from flueproof.shop.records.promises.clock import note_clock
from flueproof.shop.records.promises.plan.bench import bench_at
from flueproof.shop.records.promises.planning import planned
from shop.planned import MONDAY, give_hours, make_job, make_stations

DAY = dt.timedelta(days=1)


@pytest.fixture
def bench(shop, people):
    give_hours(people)
    return make_stations()


def test_a_repair_waits_for_its_parts_until_their_day_and_is_planned_from_then(bench, owner):
    job = make_job(owner, 1, service="repair", complaint="dead", spend_up_to=50)
    job.state, job.parts_due = "parts", (MONDAY + 2 * DAY).date()
    job.save()
    made = bench_at(MONDAY)
    plan, _ = planned(made, None, 0)
    first = plan.of_job(job.number)[0]
    assert made.situation.by_name[job.number].steps[first.step].name == "repair"
    assert made.axis.moment(first.start) >= (MONDAY + 2 * DAY).replace(hour=8)


@pytest.mark.parametrize(("due", "words"), [(None, "no day is known"), (MONDAY.date() - DAY, "which is over: ask")])
def test_parts_without_a_day_or_with_one_that_is_over_keep_a_job_out_and_say_so(bench, owner, due, words):
    job = make_job(owner, 1, waits_for="CO cell")
    job.state, job.parts_due = "parts", due
    job.save()
    made = bench_at(MONDAY)
    assert made.situation.jobs == ()
    assert words in made.waiting[job.number]
    assert "CO cell" in made.waiting[job.number]


def test_who_waits_is_told_with_what_for(bench, owner):
    stopped = make_job(owner, 1)
    note_clock(stopped, "stopped", MONDAY, cause="quote", words="new pump")
    bare = make_job(owner, 2, clock=False)
    note_clock(bare, "arrived", MONDAY)
    make_job(owner, 3, state="requested", clock=False)
    waiting = bench_at(MONDAY).waiting
    assert waiting == {
        stopped.number: "waiting for the owner's yes to the quote: new pump",
        bare.number: "the paperwork",
    }


def test_gas_that_runs_stays_where_it_is_with_who_began_it(bench, owner, people):
    job = make_job(owner, 1)
    job.state = "bench"
    job.save()
    visit = job.visits.create(number=1, opened_at=MONDAY, opened_by=people["technician"], station=bench[1])
    Application.objects.create(
        visit=visit,
        plan={"kind": "test-gas", "phase": "as-found"},
        began_at=MONDAY - dt.timedelta(minutes=4),
        began_by=people["technician"],
    )
    made = bench_at(MONDAY)
    (running,) = made.situation.running
    assert (running.technician, running.station, running.start) == ("technician", "Bench 2", -4)
    plan, problem = planned(made, None, 0)
    assert problem == ""
    assert running in plan.placed


def test_days_off_and_days_out_are_no_time_to_plan_in(bench, owner, people):
    DayOff.objects.create(person=people["technician"], first=MONDAY.date(), last=MONDAY.date())
    StationOut.objects.create(station=Station.objects.get(name="Bench 1"), first=MONDAY.date(), last=MONDAY.date())
    made = bench_at(MONDAY)
    windows = {each.name: each.windows for each in made.hands.technicians}
    assert windows["technician"][0][0] > made.axis.open[0][1]
    assert windows["signer"][0] == (0, 480)
    assert {each.name: bool(each.out) for each in made.hands.stations} == {"Bench 1": True, "Bench 2": False}


def test_a_week_in_which_the_clocks_change_has_days_of_their_true_length(bench, people):
    row = people["technician"].working_pattern
    row.hours = {str(day): ["00:00", "17:00"] for day in range(7)}
    row.save()
    friday = dt.datetime(2026, 10, 30, 12, 0, tzinfo=dt.UTC)
    made = bench_at(friday)
    first = {each.name: each.windows for each in made.hands.technicians}["technician"][0]
    assert first == (0, 540)
    assert made.axis.moment(made.axis.open[1][0]) == dt.datetime(2026, 11, 2, 13, 0, tzinfo=dt.UTC)


def test_a_rush_counts_double(bench, owner):
    job = make_job(owner, 1, rush=True)
    assert bench_at(MONDAY).situation.by_name[job.number].weight == 2
