"""A reference found wrong: its visits judged again, each once, whatever breaks on the way; nothing old altered."""

import datetime as dt
import json

import pytest
from django.utils import timezone

from flueproof.shop.records.duties import wrong_reference
from flueproof.shop.records.duties.wrong_reference import (
    FindingError,
    declare_wrong,
    judge_on,
    progress_of,
    resting_on,
    visits_of,
)
from flueproof.shop.records.models import Duty, RecomputedVisit, Webhook, WebhookDelivery
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.judged import judged


def test_a_visit_that_lost_conform_makes_a_duty_of_the_same_day(visit_of, declared):
    visit = visit_of("healthy")
    (row,) = judge_on(declared(), timezone.now())
    point = next(one for one in row.before["points"] if one["channel"] == "co")
    after = next(one for one in row.after["points"] if one["channel"] == "co")
    assert (point["statement"], after["statement"]) == ("conform", "not-conform")
    assert after["error"] == pytest.approx(point["error"] - 0.15 * 502.0, abs=0.1)
    duty = Duty.objects.get()
    assert (duty.visit, duty.kind, duty.due_on) == (visit, "reference", timezone.localdate())


def test_nothing_in_the_old_record_changes(visit_of, declared):
    visit = visit_of("healthy")
    before = [(event.body, event.hash) for event in visit.events.order_by("position")]
    stood = judged(visit).judgement.as_found.outcome
    list(judge_on(declared(), timezone.now()))
    assert [(event.body, event.hash) for event in visit.events.order_by("position")] == before
    assert broken_links(visit) == []
    assert judged(visit).judgement.as_found.outcome == stood


def test_a_small_difference_changes_nothing_and_owes_nothing(visit_of, declared):
    visit_of("healthy")
    (row,) = judge_on(declared(1.001), timezone.now())
    assert (row.changed, row.danger) == (0, 0)
    assert not Duty.objects.exists()


def test_broken_off_it_goes_on_where_it_was(visit_of, declared):
    for name in ("healthy", "draft-off", "thermocouple-off"):
        visit_of(name)
    finding = declared()
    first = next(judge_on(finding, timezone.now()))
    assert progress_of(finding).done == 1
    list(judge_on(finding, timezone.now(), most=1))
    list(judge_on(finding, timezone.now()))
    assert list(judge_on(finding, timezone.now())) == []
    assert progress_of(finding).finished
    assert RecomputedVisit.objects.values("visit").distinct().count() == RecomputedVisit.objects.count() == 3
    assert RecomputedVisit.objects.filter(pk=first.pk).exists()


def test_one_that_cannot_be_read_keeps_its_trouble_and_stops_nobody(visit_of, declared, monkeypatch):
    broken = visit_of("healthy")
    visit_of("draft-off")
    real = wrong_reference._to_judge

    def half(visit):
        if visit.pk == broken.pk:
            raise KeyError("bundle")
        return real(visit)

    monkeypatch.setattr(wrong_reference, "_to_judge", half)
    finding = declared()
    list(judge_on(finding, timezone.now()))
    assert progress_of(finding).finished
    assert "cannot be read" in finding.visits.get(visit=broken).trouble


def test_before_the_day_it_went_wrong_nothing_is_touched(visit_of, declared):
    visit_of("healthy")
    (row,) = judge_on(declared(since=timezone.localdate()), timezone.now())
    assert row.before == {}
    assert row.trouble == ""


def test_a_later_finding_overtakes_what_the_first_left_open(visit_of, declared):
    visit_of("healthy")
    list(judge_on(declared(1.15), timezone.now()))
    list(judge_on(declared(1.20), timezone.now()))
    assert list(Duty.objects.order_by("id").values_list("state", flat=True)) == ["overtaken", "open"]


def test_the_same_said_twice_is_one_finding(declared, bench):
    assert declared().pk == declared().pk
    assert declared(1.2).pk != declared(1.15).pk


def test_how_many_rest_on_it_is_known_before(visit_of, bottle):
    visit_of("healthy")
    assert resting_on(bottle) == (1, 1)
    assert resting_on(bottle, timezone.localdate() + dt.timedelta(days=1)) == (0, 0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"how": " "}, "how it was found"),
        ({"since": dt.date(2999, 1, 1)}, "correct the day"),
        ({"shift": 1.0}, "no values to shift"),
    ],
)
def test_what_says_too_little_is_refused(bottle, worth, people, change, words):
    said = {"how": "recalled", "since": None, "shift": 0.0, **change}
    how = said.pop("how")
    with pytest.raises(FindingError, match=words):
        declare_wrong(bottle, worth(1.15), how, people["signer"], timezone.now(), **said)
    bottle.refresh_from_db()
    assert bottle.state == "in-use"


def test_the_value_that_stands_already_and_one_that_is_none_are_refused(bottle, worth, people):
    with pytest.raises(FindingError, match="already"):
        declare_wrong(bottle, worth(1.0), "looked", people["signer"], timezone.now())
    with pytest.raises(FindingError):
        declare_wrong(bottle, {"kind": "test-gas"}, "looked", people["signer"], timezone.now())


def test_other_programs_are_told_and_the_visits_are_listed(visit_of, declared):
    Webhook.objects.create(url="https://hooks.example/x", secret="s", events=["reference-found-wrong"])  # noqa: S106
    visit = visit_of("healthy")
    finding = declared()
    assert json.loads(WebhookDelivery.objects.get().body)["data"]["finding"] == finding.pk
    assert list(visits_of(finding)) == [visit]
