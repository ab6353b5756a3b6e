"""What did not arrive is kept with the job, and goes again only where that makes sense."""

import datetime as dt

import pytest

from flueproof.shop.records.mailing.links import withdraw_links
from flueproof.shop.records.mailing.undelivered import SendingRefusedError, bounced, not_sent, send_again
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Letter

DAY = dt.timedelta(days=1)


@pytest.fixture
def letter(bench, job, now):
    """A letter with a link that was sent."""
    made = write_letter("ready", job=job, now=now)
    Letter.objects.filter(pk=made.pk).update(state="sent", next_try_at=None)
    return made


def test_a_bounce_is_kept_once_with_who_says_so(letter, people, now, job):
    for _ in range(2):
        row = bounced(letter, " no such mailbox ", people["counter"], now)
    assert (row.state, row.trouble) == ("bounced", "no such mailbox")
    (moment,) = job.moments.filter(what="letter came back")
    assert (moment.by, moment.text) == (people["counter"], f"“{letter.subject}” to {letter.to}: no such mailbox")


def test_very_long_trouble_is_cut(letter, now):
    assert len(not_sent(letter, "x" * 9000, now).trouble) == 500


def test_a_letter_goes_again_with_the_same_words_and_a_new_number(letter, people, now, job):
    made = send_again(letter, " new@tidewater.example ", people["counter"], now + DAY)
    assert (made.to, made.subject, made.text, made.html) == (
        "new@tidewater.example",
        letter.subject,
        letter.text,
        letter.html,
    )
    assert (made.state, made.job, made.owner, made.next_try_at) == ("waiting", job, job.owner, now + DAY)
    assert made.message_id != letter.message_id
    assert job.moments.filter(what="letter", text__endswith="again, to new@tidewater.example").count() == 1


def test_a_second_press_sends_it_again_once(letter, people, now):
    first = send_again(letter, letter.to, people["counter"], now)
    assert send_again(letter, letter.to, people["counter"], now) == first


def test_an_address_that_is_none_is_refused(letter, people, now):
    with pytest.raises(SendingRefusedError, match="is no e-mail address"):
        send_again(letter, "a@b.example\nBcc: c@d.example", people["counter"], now)


def test_a_letter_whose_link_is_over_is_written_anew_instead(letter, people, now, job):
    with pytest.raises(SendingRefusedError, match="its link is too old"):
        send_again(letter, letter.to, people["counter"], now + 181 * DAY)
    withdraw_links(now, job=job)
    with pytest.raises(SendingRefusedError, match="its link was withdrawn"):
        send_again(letter, letter.to, people["counter"], now)
    assert Letter.objects.count() == 1


def test_a_letter_of_no_job_can_come_back_too(bench, now):
    row = write_letter("confirm-request", to="a@b.example", now=now)
    assert bounced(row, "gone", None, now).state == "bounced"
