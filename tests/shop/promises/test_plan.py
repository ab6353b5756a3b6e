"""The Promises page: lists, the week, the plan made anew."""

import datetime as dt

import pytest

from flueproof.shop.promises.presenters.risk import risk_mark
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Plan, WorkingPattern
from flueproof.shop.records.promises.clock import give_promise
from shop.planned import MONDAY, make_job

DAY = dt.timedelta(days=1)


def text(answer):
    return answer.content.decode()


def test_without_a_plan_the_page_says_what_to_do(counter_client, bench):
    page = text(counter_client.get("/promises/"))
    assert "There is no plan yet. Press “Plan anew”." in page
    assert "Nothing is late." in page


def test_planning_anew_shows_the_lists_the_week_and_how_good_the_plan_is(counter_client, bench, people):
    give_promise(bench[0], MONDAY, people["counter"], day=MONDAY.date())
    give_promise(bench[1], MONDAY, people["counter"], day=(MONDAY - 3 * DAY).date())
    move_job(bench[2], "held", people["counter"], MONDAY, waits_for="yes to <b>a new cell</b>")
    answer = counter_client.post("/promises/anew", follow=True)
    page = text(answer)
    assert answer.redirect_chain == [("/promises/", 302)]
    for words in ("Promised for today", "Late", "late already", "kept by this plan", "a first plan, made at once"):
        assert words in page
    assert "yes to &lt;b&gt;a new cell&lt;/b&gt;" in page
    assert page.count('class="block person') > 0
    assert page.count('class="block station') > 0
    assert "Monday 30 November 2026 as a table" in page
    assert Plan.objects.get().by == people["counter"]


def test_what_is_promised_for_next_week_stands_on_the_page_too(counter_client, bench, people):
    give_promise(bench[0], MONDAY, people["counter"], day=(MONDAY + 7 * DAY).date())
    page = text(counter_client.get("/promises/"))
    assert "Promised for later" in page
    assert bench[0].number in page


def test_a_second_press_makes_no_second_plan(counter_client, bench):
    counter_client.post("/promises/anew")
    page = text(counter_client.post("/promises/anew", follow=True))
    assert "Nothing changed since the last plan" in page
    assert Plan.objects.count() == 1


def test_a_plan_that_is_overtaken_says_so(counter_client, bench, owner):
    counter_client.post("/promises/anew")
    assert "Something changed since then" not in text(counter_client.get("/promises/"))
    make_job(owner, 4)
    assert "Something changed since then" in text(counter_client.get("/promises/"))


def test_looking_for_a_better_plan_tells_found_from_proved(counter_client, bench, monkeypatch):
    monkeypatch.setattr("flueproof.shop.promises.views.plan.BETTER_SECONDS", 0.5)
    page = text(counter_client.post("/promises/better", follow=True))
    assert Plan.objects.get().found in {"best-found", "proved"}
    assert "the best plan found so far" in page or "proved best" in page


def test_without_anybody_the_page_says_so_and_does_not_break(manager_client, shop, owner):
    make_job(owner, 1)
    page = text(manager_client.post("/promises/anew", follow=True))
    assert "Nobody gets work from the plan" in page
    assert "To hours and days" in page


def test_a_person_who_left_with_planned_work_is_told_and_the_work_given_to_others(counter_client, bench, people):
    counter_client.post("/promises/anew")
    people["technician"].is_active = False
    people["technician"].save()
    assert "Something changed since then" in text(counter_client.get("/promises/"))
    counter_client.post("/promises/anew")
    assert "R. Vale" not in text(counter_client.get("/promises/"))


@pytest.mark.parametrize("address", ["/promises/anew", "/promises/better"])
def test_only_who_may_plan_plans(technician_client, counter_client, bench, address):
    assert technician_client.post(address).status_code == 403
    assert counter_client.get(address).status_code == 405
    assert not Plan.objects.exists()


def test_a_technician_sees_the_page_without_the_press(technician_client, bench):
    page = text(technician_client.get("/promises/"))
    assert "Plan anew" not in page
    assert "Somebody who may plan makes the first one" in page


def test_long_lists_say_how_many_more_there_are(counter_client, bench, owner, monkeypatch):
    monkeypatch.setattr("flueproof.shop.promises.presenters.page.MOST", 2)
    for job in bench:
        give_promise(job, MONDAY, None, day=MONDAY.date())
    page = text(counter_client.get("/promises/"))
    assert "1 more" in page
    assert "more</a>" not in text(counter_client.get("/promises/?all=yes"))


def test_the_work_list_prints_one_person_or_all(technician_client, counter_client, bench):
    assert "Nothing is planned for anybody" in text(technician_client.get("/promises/work-list"))
    counter_client.post("/promises/anew")
    everybody = text(technician_client.get("/promises/work-list"))
    assert "R. Vale: Monday 30 November 2026" in everybody
    assert "S. Alder: Monday 30 November 2026" in everybody
    alone = text(technician_client.get("/promises/work-list?who=technician"))
    assert "S. Alder:" not in alone
    assert bench[0].analyzer.serial in everybody


def test_hours_that_end_before_the_work_of_the_day_is_drawn_still_make_a_page(counter_client, bench):
    for row in WorkingPattern.objects.all():
        row.hours = {"0": ["08:00", "12:00"]}
        row.save()
    assert counter_client.post("/promises/anew", follow=True).status_code == 200


@pytest.mark.parametrize(
    ("risk", "words", "figure"),
    [
        (0.0, "kept by this plan", "risk under 1 %"),
        (0.3, "may break", "risk 30 %"),
        (0.6, "more likely broken than kept", "risk 60 %"),
        (1.0, "will break by this plan", "risk over 99 %"),
    ],
)
def test_a_risk_has_words_and_a_figure(risk, words, figure):
    mark = risk_mark(risk, promised=100)
    assert (mark.words, mark.figure) == (words, figure)
    assert risk_mark(risk, promised=None) is None
    assert risk_mark(risk, promised=-5).words == "late already"
