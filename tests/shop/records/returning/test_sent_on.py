"""A job at another shop: its clock, its number, its paper, its results marked as its own."""

import datetime as dt
import hashlib

import pytest

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import ClockEvent, Job, SentOn
from flueproof.shop.records.returning.sent_on import (
    Other,
    SentOnError,
    all_out,
    back_from,
    keep_paper,
    note_theirs,
    out_now,
    results_of_others,
    send_on,
)
from flueproof.shop.records.returning.shipping import Parcel

TODAY = dt.date(2026, 11, 25)
OTHER = Other("Northgate (invented)", "infrared bench", "Ada Quay, by phone", dt.date(2026, 12, 3))
PDF = b"%PDF-1.7 their certificate"


@pytest.fixture
def sent(job, shop, people, now):
    return send_on(job, OTHER, Parcel("Coastline", "CL 1"), people["counter"], now, TODAY)


def test_the_job_is_there_once_and_its_clock_stands_for_the_other_shop(sent, job, people, now):
    again = send_on(job, OTHER, Parcel(""), people["counter"], now, TODAY)
    row = Job.objects.get(pk=job.pk)
    assert again == sent
    assert (row.state, row.waits_for) == ("sent-on", "Northgate (invented), back by 3 December 2026")
    assert row.clock_stopped_at == now
    assert ClockEvent.objects.filter(job=job, kind="stopped", cause="other-shop").count() == 1
    assert row.shipments.get().way == "on"
    assert all_out() == [sent]


@pytest.mark.parametrize(
    ("other", "said"),
    [
        (Other("", "x", "Ada"), "which shop"),
        (Other("N", "x", " "), "owner must know"),
        (Other("N", "x", "Ada", dt.date(2026, 11, 1)), "passed already"),
    ],
)
def test_what_is_not_said_is_asked(job, people, now, other, said):
    with pytest.raises(SentOnError, match=said):
        send_on(job, other, Parcel(""), people["counter"], now, TODAY)
    assert not SentOn.objects.exists()


def test_a_job_whose_box_is_not_here_cannot_be_sent_on(job, people, now):
    job.state = "requested"
    job.save()
    with pytest.raises(MoveRefusedError):
        send_on(job, OTHER, Parcel(""), people["counter"], now, TODAY)
    assert not SentOn.objects.exists()


def test_a_later_day_is_told_and_stands_on_the_tag(sent, job, people, now):
    for _ in range(2):
        note_theirs(sent, "NG-7", dt.date(2026, 12, 9), people["counter"], now)
    assert Job.objects.get(pk=job.pk).waits_for == "Northgate (invented), back by 9 December 2026"
    assert job.moments.filter(what="the other shop said").count() == 1


def test_back_goes_on_here_and_the_results_stay_theirs(sent, job, people, now):
    keep_paper(sent, PDF, '../..\\evil"name.exe', people["counter"], now)
    for _ in range(2):
        back_from(sent, "CO2 conforms", "bench", people["counter"], now + dt.timedelta(days=5))
    row = Job.objects.get(pk=job.pk)
    (result,) = results_of_others(row)
    assert row.state == "bench"
    assert out_now(row) is None
    assert result.paper_id == hashlib.sha256(PDF).hexdigest()
    assert result.paper_name == "evil_name.pdf"
    assert (
        "Results of Northgate (invented), not ours"
        in row.moments.get(what="back from another shop", text__contains="CO2").text
    )
    assert row.shipments.get().delivered_at is not None


@pytest.mark.parametrize("content", [b"MZ\x90 a program", b"", b"<html>"])
def test_what_is_no_paper_is_not_kept(sent, people, now, content):
    with pytest.raises(SentOnError, match="PDF, PNG or JPEG"):
        keep_paper(sent, content, "paper.pdf", people["counter"], now)


def test_a_paper_can_come_later_and_is_kept_once(sent, people, now):
    back_from(sent, "", "arrived", people["counter"], now)
    for _ in range(2):
        keep_paper(sent, PDF, "c.pdf", people["counter"], now)
    assert sent.job.moments.filter(text__contains="SHA-256").count() == 1
    with pytest.raises(SentOnError, match="back from"):
        note_theirs(sent, "x", None, people["counter"], now)
