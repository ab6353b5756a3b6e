"""E-mails about what was found wrong."""

import pytest
from django.utils import timezone

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.records.duties.letters import open_undelivered, send_notice, write_all
from flueproof.shop.records.duties.notices import Words, suggested
from flueproof.shop.records.duties.telling import DutyEndedError, DutyError, keep_act
from flueproof.shop.records.duties.wrong_reference import judge_on
from flueproof.shop.records.mailing.kinds import kind_named
from flueproof.shop.records.mailing.undelivered import bounced
from flueproof.shop.records.models import Letter

WORDS = Words("Your analyzer", "It was off.")


@pytest.fixture
def by(people):
    return people["counter"]


def test_the_e_mail_stands_in_the_outbox_and_with_the_duty(outside, by):
    act = send_notice(outside, suggested(outside, by, timezone.now()), "", by, timezone.now())
    assert act.letter == Letter.objects.get()
    assert (act.letter.kind, act.letter.to) == ("found-wrong", "ada@tidewater.example")
    assert act.letter.job == outside.visit.job


def test_words_of_nothing_are_refused(outside, by):
    with pytest.raises(DutyError):
        send_notice(outside, Words(" ", "x"), "", by, timezone.now())
    assert not Letter.objects.exists()


def test_nothing_is_sent_when_somebody_told_them(outside, by):
    keep_act(outside, "phone", by, timezone.now(), whom="Ada")
    with pytest.raises(DutyEndedError):
        send_notice(outside, WORDS, "", by, timezone.now())
    assert not Letter.objects.exists()


def test_an_e_mail_that_came_back_tells_nobody_and_opens_the_duty_again(outside, by):
    act = send_notice(outside, WORDS, "", by, timezone.now())
    assert open_undelivered(timezone.now()) == 0
    bounced(act.letter, "no such mailbox", None, timezone.now())
    assert open_undelivered(timezone.now()) == 1
    assert open_undelivered(timezone.now()) == 0
    outside.refresh_from_db()
    assert outside.state == "open"
    assert "did not arrive" in outside.acts.last().words


def test_one_that_came_back_matters_no_more_when_they_were_called(outside, by):
    act = send_notice(outside, WORDS, "", by, timezone.now())
    outside.refresh_from_db()
    outside.state = "open"
    outside.save()
    keep_act(outside, "phone", by, timezone.now(), whom="Ada")
    bounced(act.letter, "no such mailbox", None, timezone.now())
    assert open_undelivered(timezone.now()) == 0


def test_an_owner_of_two_analyzers_gets_one_e_mail_about_both(visit_of, declared, by):
    for name in ("healthy", "draft-off"):
        visit_of(name)
    finding = declared()
    list(judge_on(finding, timezone.now()))
    assert finding.duties.count() == 2
    written = write_all(finding, by, timezone.now())
    (letter,) = written.letters
    for duty in finding.duties.all():
        assert duty.analyzer.serial in letter.text
        assert duty.acts.get().letter == letter
    assert letter.text.count(ONE_RULE) == 1
    assert write_all(finding, by, timezone.now()).letters == ()


def test_who_has_no_address_is_to_be_called(visit_of, declared, by, owner):
    owner.contacts.update_or_create(name="Ada Quay (invented)", defaults={"email": ""})
    visit_of("healthy")
    finding = declared()
    list(judge_on(finding, timezone.now()))
    written = write_all(finding, by, timezone.now())
    assert (written.letters, [one.name for one in written.to_call]) == ((), [owner.name])


@pytest.mark.parametrize("name", ["found-wrong", "reference-wrong"])
def test_the_words_around_can_be_changed_by_the_shop(name):
    assert {"subject", "words"} <= set(kind_named(name).placeholders)
