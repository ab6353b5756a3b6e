"""A request is sent, confirmed, becomes jobs with every word the owner wrote, or is withdrawn; pressed twice, once."""

import datetime as dt
from decimal import Decimal

import pytest

from flueproof.shop.records.intake.asking.drafts import (
    MOST_ANALYZERS,
    RequestRefusedError,
    add_analyzer,
    begin_draft,
    came_to,
    missing_in,
    take_off,
)
from flueproof.shop.records.intake.requests import (
    close_when_all_here,
    confirm_request,
    job_of,
    jobs_of,
    join_job,
    send_request,
    withdraw_request,
)
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Analyzer, Job, Owner

WHO = {
    "firm": "Tidewater Heating (invented)",
    "contact": "Ada Quay (invented)",
    "email": "ada@tidewater.example",
    "lines": "5 Quay Street\nYard gate",
    "town": "Port Alder",
    "postcode": "00100",
    "carrier": "collected",
    "purchase_order": "PO 77",
    "needed_by": dt.date(2026, 12, 4),
}
UNIT = {
    "make": "Orrin",
    "model": "Orrin 5",
    "serial": "O5-20417",
    "complaint": "CO stays at 3 ppm in air",
    "used_on": "oil boiler",
    "accidents": ["wet", "dropped"],
    "enclosed": ["probe", "hose"],
    "service": "repair",
    "spend_up_to": Decimal("250.00"),
    "limits": "profile",
    "decision_rule": "simple",
    "as_found": False,
    "may_set_clock": False,
    "may_update_firmware": True,
    "may_clear_memory": True,
    "due_wanted": True,
    "own_number": "No. 4",
}


def filled(now, **changed):
    request = begin_draft(WHO, "page", None, now)
    one = request.analyzers.get()
    for name, value in {**UNIT, **changed}.items():
        setattr(one, name, value)
    one.save()
    return request


@pytest.fixture
def sent(db, now):
    return send_request(filled(now), now, None)


class TestDraft:
    def test_it_says_what_is_missing_step_by_step(self, db, now):
        draft = begin_draft({}, "page", None, now)
        said = [one.words for one in missing_in(draft)]
        assert len(said) == 4
        assert said[0].startswith("Your firm")
        assert "e-mail" in said[1]
        with pytest.raises(RequestRefusedError, match="Model of the analyzer"):
            send_request(draft, now, None)
        draft.refresh_from_db()
        assert draft.state == "draft"

    def test_a_repair_needs_a_sum(self, db, now):
        assert "Up to which sum" in missing_in(filled(now, spend_up_to=None))[0].words
        assert missing_in(filled(now, spend_up_to=None, service="call-first")) == []

    def test_analyzers_come_and_go_but_one_stays(self, db, now):
        draft = begin_draft(WHO, "page", None, now)
        second = add_analyzer(draft, {"model": "Orrin 5"}, None)
        take_off(second, None)
        take_off(second, None)
        assert draft.analyzers.count() == 1
        with pytest.raises(RequestRefusedError, match="one analyzer at least"):
            take_off(draft.analyzers.get(), None)
        for _ in range(MOST_ANALYZERS - 1):
            add_analyzer(draft, {}, None)
        with pytest.raises(RequestRefusedError, match="at most 20"):
            add_analyzer(draft, {}, None)

    def test_going_back_does_not_lose_how_far_one_was(self, db, now):
        draft = begin_draft(WHO, "page", None, now)
        came_to(draft, 5, None)
        came_to(draft, 2, None)
        draft.refresh_from_db()
        assert draft.step == 5

    def test_what_was_sent_is_not_changed(self, sent):
        with pytest.raises(RequestRefusedError, match="cannot be changed"):
            add_analyzer(sent, {}, None)
        with pytest.raises(RequestRefusedError, match="cannot be changed"):
            take_off(sent.analyzers.get(), None)


class TestSendingAndConfirming:
    def test_sent_waits_for_its_e_mail(self, sent, now):
        assert (sent.state, sent.sent_at, sent.confirmed_at) == ("unconfirmed", now, None)
        later = now + dt.timedelta(hours=1)
        assert send_request(sent, later, None).sent_at == now

    def test_confirmed_once(self, sent, now):
        done = confirm_request(sent, now)
        assert (done.state, done.confirmed_at) == ("confirmed", now)
        again = confirm_request(sent, now + dt.timedelta(days=9))
        assert (again.confirmed_at, again.version) == (now, done.version)

    def test_a_link_does_not_confirm_a_draft_but_the_counter_does(self, db, now, people):
        draft = filled(now)
        with pytest.raises(RequestRefusedError, match="not sent yet"):
            confirm_request(draft, now)
        done = confirm_request(draft, now, people["counter"])
        assert (done.state, done.sent_at) == ("confirmed", now)
        assert done.history.first().history_user == people["counter"]

    def test_withdrawn_stays_withdrawn_and_says_why(self, sent, now):
        gone = withdraw_request(sent, "sold it", None)
        assert withdraw_request(sent, "again", None).version == gone.version
        assert gone.history.first().history_change_reason == "sold it"
        for act in (lambda: confirm_request(sent, now), lambda: send_request(sent, now, None)):
            with pytest.raises(RequestRefusedError, match="withdrawn"):
                act()


class TestBecomingJobs:
    def test_the_job_has_every_word_of_the_request(self, sent, now, people, owner, analyzer):
        confirm_request(sent, now)
        (became,) = jobs_of(sent, owner, people["counter"], now)
        job = Job.objects.get(pk=became.job.pk)
        assert (became.how, job.state, job.analyzer, job.owner) == ("opened", "requested", analyzer, owner)
        copied = set(UNIT) - {"make", "model", "serial", "enclosed"}
        for name in copied:
            assert getattr(job, name) == UNIT[name], name
        assert job.enclosed_announced == ["probe", "hose"]
        assert job.enclosed == []
        assert (job.needed_by, job.purchase_order, job.return_carrier) == (WHO["needed_by"], "PO 77", "collected")
        assert job.return_address.splitlines() == [
            "Tidewater Heating (invented)",
            "Ada Quay (invented)",
            "5 Quay Street",
            "Yard gate",
            "Port Alder 00100",
        ]
        one = sent.analyzers.get()
        assert (one.job, one.analyzer) == (job, analyzer)
        assert [moment.what for moment in job.moments.all()] == ["opened", "requested"]
        assert job.history.first().history_user == people["counter"]

    def test_pressed_twice_opens_one(self, sent, now, people, owner, analyzer):
        confirm_request(sent, now)
        jobs_of(sent, owner, people["counter"], now)
        (again,) = jobs_of(sent, owner, people["counter"], now)
        assert (again.how, Job.objects.count()) == ("before", 1)

    def test_nothing_becomes_of_what_is_not_confirmed(self, sent, now, people, owner, analyzer):
        with pytest.raises(RequestRefusedError, match="Confirm it first"):
            jobs_of(sent, owner, people["counter"], now)
        assert Job.objects.count() == 0

    def test_an_analyzer_that_is_here_already_is_said_and_nothing_is_doubled(self, sent, now, people, owner, job):
        confirm_request(sent, now)
        (became,) = jobs_of(sent, owner, people["counter"], now)
        assert (became.how, became.job, Job.objects.count()) == ("here", job, 1)
        assert "J-2026-00042, here, not on the bench" in became.words
        one = join_job(sent.analyzers.get(), job, people["counter"], now)
        assert join_job(sent.analyzers.get(), job, people["counter"], now) == one
        assert job.moments.get().text.endswith("CO stays at 3 ppm in air; last used on oil boiler")

    def test_two_requests_never_share_a_job(self, sent, now, people, job):
        join_job(sent.analyzers.get(), job, people["counter"], now)
        other = filled(now)
        with pytest.raises(RequestRefusedError, match="another request"):
            join_job(other.analyzers.get(), job, people["counter"], now)

    @pytest.mark.parametrize("changed", [{"serial": "O5-2O417"}, {"serial": ""}, {"make": "Orrin & Son"}])
    def test_what_is_not_on_file_to_the_letter_is_left_to_the_box(self, now, people, owner, analyzer, changed):
        request = confirm_request(filled(now, **changed), now, people["counter"])
        (became,) = jobs_of(request, owner, people["counter"], now)
        assert (became.how, became.job, Job.objects.count()) == ("left", None, 0)

    def test_the_counter_may_put_it_on_file_at_once(self, now, people, owner):
        request = confirm_request(filled(now, serial="O5-90001"), now, people["counter"])
        one = request.analyzers.get()
        (became,) = jobs_of(request, owner, people["counter"], now, add_new={one.pk})
        assert became.how == "opened"
        made = Analyzer.objects.get(serial="O5-90001")
        assert (made.owner, made.profile, became.job.analyzer) == (owner, "two-cell-residential", made)

    def test_an_analyzer_of_somebody_else_is_said_and_left(self, sent, now, people, analyzer):
        confirm_request(sent, now)
        other = Owner.objects.create(name="Hill Heating (invented)")
        (became,) = jobs_of(sent, other, people["counter"], now)
        assert (became.how, Job.objects.count()) == ("other-owner", 0)
        assert "belongs to Tidewater Heating" in became.words

    def test_an_owner_merged_meanwhile_leads_to_the_one_that_stands(self, sent, now, people, owner, analyzer):
        old = Owner.objects.create(name="Tide Water Htg (invented)")
        sent.owner = old
        sent.save()
        confirm_request(sent, now)
        old.merged_into = owner
        old.save()
        (became,) = jobs_of(sent, None, people["counter"], now)
        assert (became.how, became.job.owner) == ("opened", owner)
        sent.refresh_from_db()
        assert sent.owner == owner

    def test_of_several_each_has_its_own_answer(self, now, people, owner, analyzer):
        request = filled(now)
        add_analyzer(request, {**UNIT, "serial": "O5-20417"}, None)
        add_analyzer(request, {**UNIT, "serial": "not on file 7"}, None)
        confirm_request(request, now, people["counter"])
        said = [one.how for one in jobs_of(request, owner, people["counter"], now)]
        assert said == ["opened", "here", "left"]

    def test_the_box_tells_which_it_is_and_the_request_closes_when_all_are_here(self, sent, now, people, analyzer):
        confirm_request(sent, now)
        one = sent.analyzers.get()
        job = job_of(one, analyzer, people["counter"], now)
        assert job_of(one, analyzer, people["counter"], now) == job
        assert close_when_all_here(sent, people["counter"]).state == "confirmed"
        move_job(job, "arrived", people["counter"], now)
        assert close_when_all_here(sent, people["counter"]).state == "taken"
        with pytest.raises(RequestRefusedError, match=job.number):
            withdraw_request(sent, "", people["counter"])

    def test_one_that_is_reported_stolen_is_said_and_not_opened(self, sent, now, people, owner, analyzer):
        confirm_request(sent, now)
        analyzer.whereabouts = "stolen"
        analyzer.save()
        (became,) = jobs_of(sent, owner, people["counter"], now)
        assert (became.how, became.job, Job.objects.count()) == ("reported", None, 0)
        assert became.words.startswith("is reported stolen")
