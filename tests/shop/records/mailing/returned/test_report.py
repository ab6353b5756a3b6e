"""Reports of mail servers are read; whatever else comes is no report, and nothing of it breaks the reader."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.shop.records.mailing.returned.report import LARGEST, ReportError, read_report

# The shape of the example in RFC 3464, appendix E.1 (addresses and server names are invented).
REPORT = b"""\
Date: Thu, 26 Nov 2026 03:05:15 -0400
From: Mail Delivery Subsystem <MAILER-DAEMON@mail.tidewater.example>
Message-ID: <199407072116.RAA14128@mail.tidewater.example>
Subject: Returned mail: Cannot send message for 5 days
To: <bench@harrow.example>
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status;
      boundary="RAA14128.773615765/mail.tidewater.example"

--RAA14128.773615765/mail.tidewater.example

The original message was received at Thu, 26 Nov 2026 03:05:15 -0400

--RAA14128.773615765/mail.tidewater.example
content-type: message/delivery-status

Reporting-MTA: dns; mail.tidewater.example

Original-Recipient: rfc822;ada@tidewater.example
Final-Recipient: rfc822;ada.quay@mailbox.example
Action: failed
Status: 5.1.1
Diagnostic-Code: smtp;
  550 5.1.1 <ada.quay@mailbox.example>: no such user

--RAA14128.773615765/mail.tidewater.example
content-type: message/rfc822

From: "Harrow Lane Test Bench (invented)" <bench@harrow.example>
Message-ID: <letter.one@harrow.example>
Subject: Your Orrin 5 is ready

the words

--RAA14128.773615765/mail.tidewater.example--
"""


def test_a_report_says_who_was_not_reached_why_and_which_e_mail_it_was():
    report = read_report(REPORT)
    failed = report.failed
    assert (failed.recipient, failed.action, failed.status) == ("ada@tidewater.example", "failed", "5.1.1")
    assert failed.words == "550 5.1.1 <ada.quay@mailbox.example>: no such user"
    assert report.message_ids == ("<letter.one@harrow.example>",)


def test_a_report_with_the_head_only_or_none_names_the_e_mail_too():
    head = REPORT.replace(b"content-type: message/rfc822", b"content-type: text/rfc822-headers")
    assert read_report(head).message_ids == ("<letter.one@harrow.example>",)
    before, _, _ = REPORT.partition(b"content-type: message/rfc822")
    none = before.replace(b"MIME-Version", b"In-Reply-To: <letter.two@harrow.example>\nMIME-Version")
    assert read_report(none).message_ids == ("<letter.two@harrow.example>",)


def test_a_file_as_a_mailbox_keeps_it_and_windows_line_ends_are_read():
    kept = b"From MAILER-DAEMON Thu Nov 26 03:05:15 2026\n" + REPORT
    assert read_report(kept).failed.status == "5.1.1"
    assert read_report(REPORT.replace(b"\n", b"\r\n")).failed.status == "5.1.1"


@pytest.mark.parametrize("action", ["delayed", "delivered", "relayed", "expanded"])
def test_what_did_not_fail_has_not_failed(action):
    report = read_report(REPORT.replace(b"Action: failed", f"Action: {action}".encode()))
    assert report.failed is None
    assert report.outcomes[0].action == action


@pytest.mark.parametrize(
    "message",
    [
        b"From: ada@tidewater.example\nSubject: Re: ready\n\nThank you!\n",
        b"no head at all",
        REPORT.replace(b"message/delivery-status", b"text/plain"),
        REPORT.replace(b"Action: failed", b"X-Action: failed"),
    ],
)
def test_any_other_e_mail_is_no_report(message):
    assert read_report(message) is None


@pytest.mark.parametrize("message", [b"", b" \n ", b"x" * (LARGEST + 1)])
def test_what_is_no_message_says_so(message):
    with pytest.raises(ReportError):
        read_report(message)


def test_a_message_nested_without_end_is_refused_or_no_report():
    deep = b"Content-Type: message/rfc822\n\n" * 5000
    with suppress(ReportError):
        assert read_report(deep) is None


@pytest.mark.parametrize("words", [b"\x00\x1b[2J", b"\xff\xfe", b"=?utf-8?q?=00?=", b"x" * 5000])
def test_odd_signs_in_the_words_stay_one_line_that_a_database_keeps(words):
    failed = read_report(REPORT.replace(b"no such user", words)).failed
    assert "\0" not in failed.words
    assert failed.words.encode()
    assert "\n" not in failed.words
    assert len(failed.words) <= 400


@given(st.binary(min_size=1, max_size=400), st.integers(0, len(REPORT)))
def test_a_report_with_anything_put_into_it_never_breaks_the_reader(junk, place):
    try:
        found = read_report(REPORT[:place] + junk + REPORT[place:])
    except ReportError:
        return
    assert found is None or all(len(one.words) <= 400 for one in found.outcomes)
