"""Several analyzers on one bottle: one timer, one budget counted once, a record for each."""

import datetime as dt

import pytest

from flueproof.shop.records.models import Analyzer, Application, GasUse, Job
from flueproof.shop.records.visits.applications import add_typed, finish_application, mark_gas_on
from flueproof.shop.records.visits.events import Sender
from flueproof.shop.records.visits.looks.together import budget_of, left_out, members_of
from flueproof.shop.records.visits.opening import open_visit

FORM = {"code": "cyl-co-500", "feed": "tip", "manifold_l_min": "3"}


@pytest.fixture
def visits(owner, people, shop, now, cylinder):
    shop.morning_check_needed = False
    shop.save()
    made = []
    for number in (1, 2, 3):
        analyzer = Analyzer.objects.create(
            owner=owner, make="Orrin", model="Orrin 5", serial=f"O5-100{number}", profile="two-cell-residential"
        )
        job = Job.objects.create(
            number=f"J-2026-0010{number}", owner=owner, analyzer=analyzer, state="bench", opened_at=now,
            received_on=now.date(), condition="dry",
        )  # fmt: skip
        made.append(open_visit(job, people["technician"], now, shop))
    return made


@pytest.fixture
def group(technician_client, visits):
    jobs = [visit.job.number for visit in visits]
    answer = technician_client.post("/live/set", {**FORM, "jobs": jobs})
    assert answer.status_code == 302
    return Application.objects.first().group


def test_each_analyzer_gets_its_own_application_with_its_share_of_the_flow(group):
    members = members_of(group)
    assert len(members) == 3
    assert {one.plan["feed"]["supply_l_min"] for one in members} == {1.0}


def test_one_key_starts_the_one_timer(technician_client, group):
    technician_client.post(f"/live/set/{group}/gas-on")
    assert len({one.gas_on_at for one in members_of(group)}) == 1


def test_the_page_shows_a_column_for_each_and_one_budget(technician_client, group):
    text = technician_client.get(f"/live/set/{group}").content.decode()
    assert text.count("data-running=") == 3
    assert "6.0 L" in text  # 3 L/min for a hold of 120 s
    assert technician_client.get(f"/live/set/{group}/budget").status_code == 200


def test_the_manifold_s_litres_are_counted_once_and_split(group, people, now):
    members = members_of(group)
    on = members[0].began_at
    for place, one in enumerate(members):
        mark_gas_on(one, on)
        add_typed(one, Sender(f"page-{place}-xx", 1), [{**one.plan["channels"][1], "shown": 486, "t_s": 0}], now)
    for one, seconds in zip(members, (60, 120, 120), strict=True):
        finish_application(one, people["technician"], on + dt.timedelta(seconds=seconds))
    used = {use.application_id: use.litres for use in GasUse.objects.all()}
    assert sum(used.values()) == pytest.approx(3.0 * 120 / 60)
    assert used[members[0].pk] == pytest.approx(1.0)
    assert used[members[1].pk] == pytest.approx(1.0 + 1.5)


def test_the_budget_counts_sets_left_in_the_bottle(group):
    found = budget_of(members_of(group), members_of(group)[0].began_at)
    assert found.planned_l == pytest.approx(6.0)
    assert found.sets_left == int(found.left_l // 6.0)
    assert found.planned_cost > 0


def test_recording_all_leaves_open_what_nobody_read(technician_client, group, now):
    technician_client.post(f"/live/set/{group}/gas-on")
    first = members_of(group)[0]
    first.refresh_from_db()
    t_s = (first.gas_on_at - first.began_at).total_seconds()
    add_typed(first, Sender("page-first", 1), [{**first.plan["channels"][1], "shown": 486, "t_s": t_s + 60}], now)
    answer = technician_client.post(f"/live/set/{group}/finish", follow=True)
    assert "Nothing was read yet" in answer.content.decode()
    assert [one.ended for one in members_of(group)] == ["recorded", "", ""]


def test_what_is_stated_already_may_be_left_out(visits, cylinder, people, now):
    from flueproof.shop.records.visits.applications import begin_application
    from shop.live.conftest import PLAN

    visit = visits[0]
    assert left_out(visit, cylinder, now) is None
    one = begin_application(visit, PLAN, cylinder, people["technician"], now)
    mark_gas_on(one, now)
    for place, (mark, shown) in enumerate([(0, 0), (30, 440), (60, 492), (90, 500), (120, 501)]):
        add_typed(one, Sender("page-one-x", place + 1), [{**one.plan["channels"][1], "shown": shown, "t_s": mark}], now)
    finish_application(one, people["technician"], now + dt.timedelta(seconds=120))
    assert "CO through the owner's whole path" in left_out(visit, cylinder, now).titles


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"jobs": ["J-2026-00101"]}, "Choose 2 to 4"),
        ({"code": "nothing"}, "Scan its label"),
        ({"manifold_l_min": ""}, "flow"),
    ],
)
def test_a_set_that_cannot_be_is_refused_and_what_was_typed_is_kept(technician_client, visits, changes, said):
    jobs = [visit.job.number for visit in visits]
    answer = technician_client.post("/live/set", {**FORM, "jobs": jobs, **changes})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert " checked" in answer.content.decode()
    assert not Application.objects.exists()


def test_a_bottle_that_one_of_them_may_not_have_begins_none(technician_client, visits):
    analyzer = visits[2].job.analyzer
    analyzer.profile = "hydrogen-compensated-co"
    analyzer.save()
    jobs = [visit.job.number for visit in visits]
    from shop.cylinders import gas_content, make_cylinder

    make_cylinder("cyl-air", content=gas_content(balance="air"))
    answer = technician_client.post("/live/set", {**FORM, "code": "cyl-air", "jobs": jobs})
    assert answer.status_code == 422
    assert "wrong balance" in answer.content.decode()
    assert not Application.objects.exists()


def test_others_are_refused(counter_client, client, group):
    assert counter_client.get("/live/set").status_code == 403
    assert counter_client.post(f"/live/set/{group}/finish").status_code == 403
    assert client.get(f"/live/set/{group}").status_code == 302
    assert counter_client.get("/live/set/nothing").status_code == 404
