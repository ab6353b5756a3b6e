"""Who is expected: jobs and requests whose box is not here, calls of two weeks, what is due around today."""

import datetime as dt

from flueproof.shop.records.intake.calls import note_call
from flueproof.shop.records.intake.looking.expected import asked_counts, due_around, expecting
from flueproof.shop.records.models import Obligation, RequestedAnalyzer, ServiceRequest

TODAY = dt.date(2026, 11, 25)


def request(now, code, **said):
    row = ServiceRequest.objects.create(code=code, made_at=now, **{"state": "confirmed", **said})
    return RequestedAnalyzer.objects.create(request=row, slip=code, make="Orrin", serial="O5-20417")


def test_a_job_whose_box_is_awaited_is_an_open_request(awaited):
    expected = expecting(TODAY)
    assert [one.analyzer for one in expected.requests[awaited.owner_id]] == [awaited.analyzer_id]
    assert (expected.count, asked_counts(expected)[awaited.owner_id]) == (1, 1)


def test_a_request_for_an_analyzer_on_file_is_its_owners(analyzer, now):
    request(now, "AAAA", firm="Whoever")
    assert [one.analyzer for one in expecting(TODAY).requests[analyzer.owner_id]] == [analyzer.pk]


def test_a_sender_that_is_no_owner_stands_by_itself_and_drafts_and_withdrawn_ones_do_not(shop, now):
    request(now, "AAAA", firm="Thornaby Stoves", contact="T. Byrne", phone="555-0161", town="Thornaby")
    request(now, "BBBB", firm="A draft", state="draft")
    request(now, "CCCC", firm="Withdrawn", state="withdrawn")
    (sender,) = expecting(TODAY).unknown
    assert (sender.names, sender.people, sender.on_file) == (("Thornaby Stoves",), ("T. Byrne",), False)
    assert sender.places[0].town == "Thornaby"


def test_calls_count_for_two_weeks(owner, by, now):
    note_call(by, now - dt.timedelta(days=20), owner=owner)
    assert expecting(TODAY).called == {}
    note_call(by, now - dt.timedelta(days=3), owner=owner)
    assert expecting(TODAY).called == {owner.pk: dt.date(2026, 11, 22)}


def test_what_is_due_is_counted_by_day(analyzer):
    for days in (-3, 5, 5, 400):
        Obligation.objects.create(analyzer=analyzer, next_due=TODAY + dt.timedelta(days=days))
    assert due_around(TODAY) == {-3: 1, 5: 2}
