"""The file for the books and the first-pass yield, on their pages."""

import csv
import io

from django.urls import reverse

from flueproof.shop.records.models import Job

SPAN = {"first": "2026-11-01", "last": "2026-11-30"}


def finished(job, now):
    job.state, job.closed_at = "returned", now
    job.save()


def test_the_file_has_the_finished_jobs_and_nothing_that_runs(counter_client, job, shop, now, owner):
    owner.name = "=cmd|calc"
    owner.save()
    finished(job, now)
    answer = counter_client.get(reverse("returns:export-file"), SPAN)
    assert answer["Content-Disposition"] == 'attachment; filename="jobs-2026-11-01-2026-11-30.csv"'
    (row,) = csv.DictReader(io.StringIO(b"".join(answer.streaming_content).decode()))
    assert (row["job"], row["owner"], row["serial"]) == (job.number, "'=cmd|calc", "O5-20417")


def test_how_many_there_are_is_said_before(counter_client, job, shop, now):
    finished(job, now)
    assert "<b>1</b> job finished" in counter_client.get(reverse("returns:export"), SPAN).content.decode()


def test_days_that_are_no_span_are_refused(counter_client, shop):
    for last in ("2026-10-01", "2036-10-01", "soon"):
        for name in ("export", "export-file", "first-pass"):
            answer = counter_client.get(reverse(f"returns:{name}"), {**SPAN, "last": last})
            assert answer.status_code == 422


def test_the_yield_shows_what_came_back(technician_client, job, shop, now):
    finished(job, now)
    again = Job.objects.create(
        number="J-2026-00099", owner=job.owner, analyzer=job.analyzer, state="arrived", opened_at=now, first_job=job
    )
    text = technician_client.get(reverse("returns:first-pass"), SPAN).content.decode()
    assert "0.0 <span" in text
    assert again.number in text


def test_without_a_job_there_is_no_figure(technician_client, shop):
    assert "No figure yet" in technician_client.get(reverse("returns:first-pass"), SPAN).content.decode()
