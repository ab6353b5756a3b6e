"""Finished jobs for the books: a program that reads CSV gets back what is on file, a spreadsheet runs nothing."""

import csv
import datetime as dt
import io

import pytest

from flueproof.shop.records.models import Job
from flueproof.shop.records.money.export import COLUMNS, ExportError, as_text, csv_lines, finished_jobs
from flueproof.shop.records.money.quotes import approve, send_quote

DAY = dt.date(2026, 11, 25)


@pytest.fixture
def finished(job, now):
    job.state, job.closed_at = "returned", now
    job.save()
    return job


def rows(jobs):
    return list(csv.DictReader(io.StringIO("".join(csv_lines(jobs)))))


def test_a_finished_job_is_there_with_its_approved_sum(quote, people, now):
    send_quote(quote, people["counter"], now)
    approve(quote, "Ada Quay", "", now)
    job = Job.objects.get(pk=quote.job_id)
    job.state, job.closed_at = "returned", now
    job.save()
    (row,) = rows(finished_jobs(DAY, DAY))
    assert row["job"] == "J-2026-00042"
    assert (row["opened"], row["closed"]) == ("2026-11-25", "2026-11-25")
    assert (row["sum approved"], row["currency"], row["quotes approved"]) == ("536.00", "USD", quote.number)
    assert tuple(row) == COLUMNS


def test_days_are_days_of_the_shop_both_included(finished):
    finished.closed_at = dt.datetime(2026, 11, 26, 4, 30, tzinfo=dt.UTC)  # 23:30 on the 25th in New York
    finished.save()
    assert len(finished_jobs(DAY, DAY)) == 1
    assert finished_jobs(DAY + dt.timedelta(days=1), DAY + dt.timedelta(days=3)) == []


def test_open_jobs_are_not_for_the_books_and_a_span_has_two_ends(job):
    assert finished_jobs(DAY, DAY) == []
    with pytest.raises(ExportError):
        finished_jobs(DAY, DAY - dt.timedelta(days=1))


@pytest.mark.parametrize(
    "text", ['=HYPERLINK("http://x.example","y")', "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "  =1", "\n=1"]
)
def test_what_begins_like_a_formula_gets_an_apostrophe(text):
    """The signs of OWASP's "CSV Injection" page."""
    assert as_text(text) == f"'{text}"


@pytest.mark.parametrize("text", ["00417", "12345678901234567", "1E5", "0012", "2e10"])
def test_a_serial_that_a_spreadsheet_would_change_stays_text(text):
    assert as_text(text) == f"'{text}"


@pytest.mark.parametrize("text", ["O5-20417", "417", "2026-11-25", "536.00", "Tidewater", ""])
def test_plain_text_and_dates_stay_as_they_are(text):
    assert as_text(text) == text


def test_a_name_with_commas_quotes_and_lines_comes_back_whole(finished, owner):
    owner.name = 'A "B", C\nD'
    owner.save()
    (row,) = rows(finished_jobs(DAY, DAY))
    assert row["owner"] == 'A "B", C\nD'
