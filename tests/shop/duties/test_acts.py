"""Telling an owner: kept once, bad input kept on the page, the second of two sees who was first."""

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.records.duties.telling import keep_act
from flueproof.shop.records.models import DutyAct, Letter

POSTS = ("tell", "write", "need-not", "again")


def post(client, name, duty, **said):
    return client.post(reverse(f"duties:{name}", args=[duty.pk]), said)


def test_a_call_ends_the_duty(counter_client, low):
    assert post(counter_client, "tell", low, way="phone", whom="Ada Quay", words="stops using it").status_code == 302
    low.refresh_from_db()
    assert low.state == "told"
    assert low.acts.get().whom == "Ada Quay"


def test_a_call_without_a_name_is_refused_and_what_was_typed_stays(counter_client, low):
    answer = post(counter_client, "tell", low, way="phone", words="stops using it")
    assert answer.status_code == 422
    assert "Write who was told" in answer.content.decode()
    assert "stops using it" in answer.content.decode()
    assert not low.acts.exists()


def test_a_try_that_reached_nobody_leaves_it_open(counter_client, low):
    post(counter_client, "tell", low, way="not-reached", words="mailbox, asked to call back")
    low.refresh_from_db()
    assert (low.state, low.acts.count()) == ("open", 1)


@pytest.mark.parametrize("said", [{}, {"way": "telepathy"}, {"way": "phone", "whom": "x" * 200}])
def test_what_makes_no_sense_is_refused(counter_client, low, said):
    assert post(counter_client, "tell", low, **said).status_code == 422
    assert not low.acts.exists()


def test_the_second_of_two_sees_who_was_first_and_loses_nothing_typed(counter_client, people, low):
    keep_act(low, "phone", people["manager"], timezone.now(), whom="Ada Quay")
    answer = post(counter_client, "tell", low, way="phone", whom="Ben", words="said he will look")
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody was first" in page
    assert "M. Reed" in page
    assert "said he will look" in page
    assert low.acts.count() == 1


def test_an_e_mail_goes_out_with_the_rule_even_where_it_was_struck(counter_client, outside):
    post(counter_client, "write", outside, to="ada@tidewater.example", subject="Your analyzer", words="It was off.")
    letter = Letter.objects.get(kind="found-wrong")
    assert (letter.to, letter.subject) == ("ada@tidewater.example", "Your analyzer")
    assert ONE_RULE in letter.text
    outside.refresh_from_db()
    assert outside.state == "told"
    assert outside.acts.get().letter == letter


def test_an_e_mail_alone_does_not_end_a_call_of_the_day(counter_client, low):
    said = {"to": "ada@tidewater.example", "subject": "CO reads low", "words": "Stop using it."}
    post(counter_client, "write", low, **said)
    post(counter_client, "write", low, **said)
    low.refresh_from_db()
    assert low.state == "open"
    assert Letter.objects.filter(kind="found-wrong").count() == 1
    assert low.acts.count() == 1


def test_an_address_that_is_none_tells_nobody(counter_client, outside):
    post(counter_client, "write", outside, to="not an address", subject="x", words="y")
    outside.refresh_from_db()
    assert outside.state == "open"
    assert outside.acts.get().way == "not-reached"


def test_an_e_mail_without_words_is_refused_with_the_subject_kept(counter_client, outside):
    answer = post(counter_client, "write", outside, to="ada@tidewater.example", subject="Your analyzer", words="")
    assert answer.status_code == 422
    assert "Your analyzer" in answer.content.decode()
    assert not Letter.objects.exists()


def test_who_wants_no_e_mail_is_called(counter_client, outside):
    outside.owner.no_letters = True
    outside.owner.save()
    answer = post(counter_client, "write", outside, to="ada@tidewater.example", subject="x", words="y")
    assert answer.status_code == 422
    assert not DutyAct.objects.exists()


def test_an_e_mail_after_somebody_told_is_not_sent(counter_client, people, outside):
    keep_act(outside, "phone", people["manager"], timezone.now(), whom="Ada Quay")
    answer = post(counter_client, "write", outside, to="ada@tidewater.example", subject="x", words="y")
    assert answer.status_code == 409
    assert not Letter.objects.exists()


def test_need_not_be_told_wants_a_reason_and_can_be_opened_again(counter_client, outside):
    assert post(counter_client, "need-not", outside, why=" ").status_code == 422
    post(counter_client, "need-not", outside, why="new, never used")
    post(counter_client, "need-not", outside, why="pressed twice")
    outside.refresh_from_db()
    assert (outside.state, outside.why_not) == ("not-needed", "new, never used")
    assert post(counter_client, "again", outside, why="").status_code == 422
    post(counter_client, "again", outside, why="it was used after all")
    outside.refresh_from_db()
    assert outside.state == "open"


def test_need_not_after_somebody_told_changes_nothing(counter_client, people, outside):
    keep_act(outside, "phone", people["manager"], timezone.now(), whom="Ada Quay")
    assert post(counter_client, "need-not", outside, why="new").status_code == 409
    outside.refresh_from_db()
    assert outside.state == "told"


@pytest.mark.parametrize("name", POSTS)
def test_wrong_methods_strangers_and_owners_are_refused(client_of, low, name):
    address = reverse(f"duties:{name}", args=[low.pk])
    assert client_of("manager").get(address).status_code == 405
    assert client_of("stranger").post(address).status_code == 302
    assert client_of("owner").post(address).status_code == 403
    assert not low.acts.exists()
