"""A letter that came back later is marked by its own Message-ID, once, and by nothing else."""

import pytest

from flueproof.shop.records.mailing.returned.marking import mark_returned
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Letter

from .test_report import REPORT


@pytest.fixture
def letter(bench, job, now):
    """A letter that the mail server took."""
    made = write_letter("ready", job=job, now=now)
    Letter.objects.filter(pk=made.pk).update(state="sent", next_try_at=None)
    return made


@pytest.fixture
def report(letter):
    return REPORT.replace(b"<letter.one@harrow.example>", letter.message_id.encode())


def test_the_letter_is_marked_and_its_job_says_so(report, letter, job, now):
    marked = mark_returned(report, now)
    assert marked.letter.pk == letter.pk
    letter.refresh_from_db()
    assert letter.state == "bounced"
    assert letter.trouble.startswith("came back later: 5.1.1 550 5.1.1 <ada.quay@mailbox.example>")
    moment = job.moments.get(what="letter came back")
    assert moment.by is None
    assert letter.to in moment.text
    job.refresh_from_db()
    assert job.state == "arrived"


def test_the_same_report_again_marks_nothing(report, letter, job, now):
    mark_returned(report, now)
    again = mark_returned(report, now)
    assert again.letter is None
    assert "already" in again.words
    assert job.moments.filter(what="letter came back").count() == 1


def test_another_recipient_than_we_wrote_to_is_named(report, letter, now):
    forwarded = report.replace(b"Original-Recipient: rfc822;ada@tidewater.example\n", b"")
    assert "(ada.quay@mailbox.example)" in mark_returned(forwarded, now).letter.trouble


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (b"Action: failed", b"Action: delayed", "says delayed"),
        (b"message/delivery-status", b"text/plain", "no delivery report"),
    ],
)
def test_what_is_no_failure_changes_nothing(report, letter, now, old, new, said):
    marked = mark_returned(report.replace(old, new), now)
    assert said in marked.words
    assert marked.letter is None
    assert Letter.objects.get().state == "sent"


def test_an_address_alone_marks_nothing(letter, now):
    marked = mark_returned(REPORT, now)
    assert "no e-mail of this shop" in marked.words
    assert Letter.objects.get().state == "sent"
