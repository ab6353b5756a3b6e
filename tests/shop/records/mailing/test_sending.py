"""Letters leave by a real mail server, later and later while it does not answer; what is refused stands on the job."""

import datetime as dt
import random
import socket
import threading
from itertools import pairwise

import pytest

from flueproof.shop.records.mailing.links import open_link
from flueproof.shop.records.mailing.sending import LONGEST_WAIT, MOST_TRIES, run_letters, send_letters, wait_before
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Letter

MINUTE = dt.timedelta(minutes=1)


@pytest.fixture
def letter(bench, job, now):
    return write_letter("ready", job=job, now=now)


def nobody_listens():
    """Return a port at which nothing listens."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def test_a_letter_arrives_with_both_parts_and_a_link_that_opens(mail, letter, now):
    assert send_letters(now) == 1
    ((sender, to, message),) = mail.taken
    assert "bench@harrow.example" in sender
    assert to == ["ada@tidewater.example"]
    assert message["Subject"] == "Your Orrin 5, serial O5-20417 is ready, job J-2026-00042"
    assert message["From"] == '"Harrow Lane Test Bench (invented)" <bench@harrow.example>'
    assert message["Message-ID"] == letter.message_id
    assert message["Message-ID"].endswith("@harrow.example>")
    assert message["Auto-Submitted"] == "auto-generated"
    plain = message.get_body(("plain",)).get_content()
    html = message.get_body(("html",)).get_content()
    secret = plain.split("https://bench.example/answer/")[1].split("/")[0]
    assert secret in html
    assert open_link(secret, now).state == "good"
    assert "~sealed" not in plain + html
    letter.refresh_from_db()
    assert (letter.state, letter.sent_at, letter.tries, letter.next_try_at) == ("sent", now, 1, None)
    assert secret not in letter.text + letter.html


def test_a_letter_that_was_sent_is_not_sent_again(mail, letter, now):
    assert send_letters(now) == 1
    assert send_letters(now + dt.timedelta(days=9)) == 0
    assert len(mail.taken) == 1


def test_the_shop_signs_in_where_the_server_wants_it(mail, letter, now, settings):
    settings.EMAIL_HOST_USER, settings.EMAIL_HOST_PASSWORD = "user", "password"
    send_letters(now)
    assert mail.signed_in == [("user", "password")]
    assert len(mail.taken) == 1


def test_a_wrong_password_is_told_and_tried_later(mail, letter, now, settings):
    settings.EMAIL_HOST_USER, settings.EMAIL_HOST_PASSWORD = "user", "wrong"
    send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "waiting"
    assert "535" in letter.trouble


def test_a_refused_recipient_comes_back_and_the_job_goes_on(mail, letter, now, job):
    mail.refuses["ada@tidewater.example"] = (550, "no such mailbox")
    send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "bounced"
    assert "550 no such mailbox" in letter.trouble
    assert letter.next_try_at is None
    (moment,) = job.moments.filter(what="letter came back")
    assert "550 no such mailbox" in moment.text
    job.refresh_from_db()
    assert job.state == "arrived"


def test_a_refused_recipient_keeps_no_other_letter_waiting(mail, letter, now, job):
    mail.refuses["ada@tidewater.example"] = (550, "no such mailbox")
    write_letter("letter", job=job, to="bo@tidewater.example", now=now, extra={"subject": "x", "words": "y"})
    assert send_letters(now) == 2
    assert [to for _, to, _ in mail.taken] == [["bo@tidewater.example"]]


def test_a_mailbox_that_is_full_is_tried_later(mail, letter, now):
    mail.refuses["ada@tidewater.example"] = (452, "mailbox full")
    send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "waiting"
    assert letter.next_try_at > now + MINUTE / 2
    mail.refuses.clear()
    send_letters(letter.next_try_at)
    letter.refresh_from_db()
    assert letter.state == "sent"


def test_a_letter_that_the_server_refuses_to_take_is_not_tried_again(mail, letter, now, job):
    mail.data_answer = (554, "looks like advertising")
    send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "failed"
    assert "554 looks like advertising" in letter.trouble
    assert job.moments.filter(what="letter not sent").count() == 1


def test_a_server_that_is_down_ends_the_round_and_is_tried_later_and_later(letter, now, job, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", nobody_listens()
    write_letter("letter", job=job, to="bo@tidewater.example", now=now, extra={"subject": "x", "words": "y"})
    assert send_letters(now) == 1
    at = now
    waits = []
    while Letter.objects.get(pk=letter.pk).state == "waiting":
        due = Letter.objects.get(pk=letter.pk).next_try_at
        waits.append(due - at)
        at = due
        Letter.objects.exclude(pk=letter.pk).delete()
        send_letters(at, random.Random(1))  # noqa: S311 -- the same waits each time
    letter.refresh_from_db()
    assert (letter.state, letter.tries) == ("failed", MOST_TRIES)
    assert letter.trouble.startswith(f"given up after {MOST_TRIES} tries; no e-mail leaves")
    assert all(later > earlier for earlier, later in pairwise(waits[:9]))
    assert max(waits) <= LONGEST_WAIT
    assert dt.timedelta(days=1) < sum(waits, dt.timedelta()) < dt.timedelta(days=5)
    assert job.moments.filter(what="letter not sent").count() == 1


def test_waits_grow_to_half_a_day_and_are_spread():
    chance = random.Random(1)  # noqa: S311 -- the same waits each time
    waits = [wait_before(tries, chance) for tries in range(1, 40)]
    assert dt.timedelta(seconds=45) <= waits[0] <= dt.timedelta(seconds=75)
    assert max(waits) <= LONGEST_WAIT


def test_a_letter_that_is_being_sent_is_left_to_who_sends_it(letter, now):
    sent = []

    def slow(message):
        sent.append(message)
        assert send_letters(now, deliver=sent.append) == 0

    assert send_letters(now, deliver=slow) == 1
    assert len(sent) == 1


def test_a_letter_whose_sender_died_goes_out_after_its_lease(letter, now):
    def dies(_message):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        send_letters(now, deliver=dies)
    sent = []
    assert send_letters(now + MINUTE, deliver=sent.append) == 0
    assert send_letters(now + 11 * MINUTE, deliver=sent.append) == 1
    assert [message.extra_headers["Message-ID"] for message in sent] == [letter.message_id]


def test_a_letter_that_cannot_be_made_stops_no_other(bench, job, now):
    Letter.objects.create(
        kind="ready",
        to="a@b.example",
        subject="x",
        text="y",
        made_at=now,
        next_try_at=now,
        message_id="<a\nb>",
        job=job,
    )
    good = write_letter("ready", job=job, now=now)
    sent = []
    assert send_letters(now, deliver=lambda message: sent.append(message.message())) == 2
    assert len(sent) == 1
    assert Letter.objects.get(pk=good.pk).state == "sent"
    assert Letter.objects.get(message_id="<a\nb>").state == "failed"


def test_a_shop_without_an_address_sends_from_the_settings(mail, letter, now, bench, settings):
    bench.email = ""
    bench.save()
    settings.DEFAULT_FROM_EMAIL = "set@host.example"
    send_letters(now)
    assert "set@host.example" in mail.taken[0][0]


def test_names_outside_ascii_arrive_as_they_are(mail, bench, job, now):
    bench.name = "Prüfstand Ölwehr (invented)"
    bench.save()
    write_letter("letter", job=job, now=now, extra={"subject": "Größe µ", "words": "Ω ↔ 火"})
    send_letters(now)
    message = mail.taken[0][2]
    assert message["Subject"] == "Größe µ"
    assert message["From"].addresses[0].display_name == bench.name
    assert "Ω ↔ 火" in message.get_body(("plain",)).get_content()


def test_no_letter_is_begun_once_the_sender_is_to_end(bench, job, now):
    for number in range(3):
        write_letter("letter", job=job, to=f"a{number}@b.example", now=now, extra={"subject": "x", "words": "y"})
    stop, sent = threading.Event(), []

    def ends(message):
        sent.append(message)
        stop.set()

    assert send_letters(now, deliver=ends, stop_event=stop) == 1
    assert len(sent) == 1
    assert Letter.objects.filter(state="waiting", tries=0).count() == 2


def test_the_sender_ends_when_it_is_told_and_survives_a_database_that_does_not_answer(monkeypatch):
    from django.db import DatabaseError

    stop, rounds = threading.Event(), []

    def fails(_now):
        rounds.append(1)
        stop.set()
        raise DatabaseError("locked")

    monkeypatch.setattr("flueproof.shop.records.mailing.sending.write_ready_letters", fails)
    monkeypatch.setattr("flueproof.shop.records.mailing.sending.close_old_connections", lambda: None)
    monkeypatch.setattr("flueproof.shop.records.mailing.sending.connection.close", lambda: None)
    run_letters(stop)
    assert rounds == [1]
