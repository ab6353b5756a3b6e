"""A duty arises once from what a visit found, follows the record while nobody was told, and comes within its days."""

import json

from django.utils import timezone

from flueproof.shop.records.duties.arising import DAYS_TO_TELL, duty_of_visit, look_after_duties
from flueproof.shop.records.duties.telling import keep_act
from flueproof.shop.records.models import Duty, Webhook, WebhookDelivery
from flueproof.shop.records.promises.calendar import shop_calendar


def test_co_that_reads_low_is_due_the_same_day(low):
    assert (low.kind, low.due_on) == ("co-low", timezone.localdate())
    assert low.facts["do_not_use"] is True
    assert low.facts["sizes"][0]["direction"] == "low"


def test_what_is_not_dangerous_by_itself_has_some_business_days(outside):
    calendar = shop_calendar()
    assert outside.kind == "as-found"
    assert outside.due_on == calendar.add_business_days(calendar.today(timezone.now()), DAYS_TO_TELL)


def test_the_same_finding_makes_one_duty(low, people):
    for _ in range(2):
        assert duty_of_visit(low.visit, timezone.now()).pk == low.pk
    assert Duty.objects.count() == 1
    assert low.history.count() == 1


def test_a_healthy_analyzer_owes_nothing(visit_of):
    assert duty_of_visit(visit_of("healthy"), timezone.now()) is None
    assert not Duty.objects.exists()


def test_a_visit_that_has_just_begun_owes_nothing(visit_of):
    assert duty_of_visit(visit_of("thermocouple-off", steps=2), timezone.now()) is None


def test_work_that_made_it_good_takes_the_tag_off_but_not_the_duty(visit_of, people):
    demo_steps = 8
    visit = visit_of("adjusted")
    found = duty_of_visit(visit, timezone.now())
    assert visit.events.count() > demo_steps
    assert found.state == "open"
    assert found.facts["do_not_use"] is False


def test_a_record_that_grew_changes_the_facts_of_an_open_duty_only(low, people):
    low.facts = {**low.facts, "headline": "before the record grew"}
    low.save()
    assert duty_of_visit(low.visit, timezone.now()).facts["headline"] == "CO read too low"
    keep_act(low, "phone", people["counter"], timezone.now(), whom="Ada Quay")
    Duty.objects.get().facts["headline"] = "kept"
    told = Duty.objects.get()
    told.facts = {**told.facts, "headline": "as it was told"}
    told.save()
    assert duty_of_visit(low.visit, timezone.now()).facts["headline"] == "as it was told"


def test_another_kind_of_finding_overtakes(low):
    low.kind = "as-found"
    low.save()
    now_standing = duty_of_visit(low.visit, timezone.now())
    low.refresh_from_db()
    assert (low.state, now_standing.kind, now_standing.state) == ("overtaken", "co-low", "open")


def test_other_programs_are_told(bench, visit_of):
    Webhook.objects.create(url="https://hooks.example/x", secret="s", events=["owner-to-be-told"])  # noqa: S106
    duty = duty_of_visit(visit_of("co-cell-low"), timezone.now())
    told = json.loads(WebhookDelivery.objects.get().body)["data"]
    assert told == {"job": duty.visit.job.number, "kind": "co-low", "due_on": duty.due_on.isoformat()}


def test_looking_after_them_finds_visits_that_nobody_signed(visit_of):
    visit = visit_of("co-cell-low")
    assert look_after_duties(timezone.now()) >= 1
    assert Duty.objects.get().visit == visit
    assert look_after_duties(timezone.now()) == 0
