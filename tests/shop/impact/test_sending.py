"""What leaves the page: the list as CSV and JSON, the notice letter as PDF."""

import csv
import io
import json

import pytest
from django.urls import reverse

from papers.readback import text_of

from .conftest import ONE_HOUSE, OWN_LIMIT

ACTIONS = ("impact:log-csv", "impact:log-json", "impact:log-letter")


def test_the_list_as_csv_has_the_rule_and_no_formula(low, technician_client, sent):
    log = ONE_HOUSE.replace("House 1", "=SUM(A1)")
    answer = sent(technician_client, low, "impact:log-csv", text=log, **OWN_LIMIT)
    assert answer["Content-Disposition"] == f'attachment; filename="field-log-{low.job.analyzer.serial}.csv"'
    assert answer["Cache-Control"] == "private, no-store"
    head, row = csv.reader(io.StringIO(answer.content.decode("utf-8-sig"), newline=""))
    told = dict(zip(head, row, strict=False))
    assert told["what became of it"] == "was inside the limit, is outside"
    assert told["site"] == "'=SUM(A1)"
    assert "never clears an appliance" in told["rule"]
    assert float(told["stack temperature shown [°F]"]) == 392.0


def test_the_list_as_json_says_rule_courses_and_limits(low, technician_client, sent):
    answer = sent(technician_client, low, "impact:log-json", text=ONE_HOUSE, last_good="2026-04-06", **OWN_LIMIT)
    told = json.loads(answer.content)
    assert list(told["courses"]) == ["full", "not_yet", "growing"]
    assert told["limits"][0]["value"] == 110.0
    assert told["rows"][0]["worst"] == "now-outside"
    assert "never clears" in told["rule"]


def test_the_letter_names_the_reading_that_changed_and_the_rule(low, technician_client, sent):
    answer = sent(technician_client, low, "impact:log-letter", text=ONE_HOUSE, **OWN_LIMIT)
    assert answer["Content-Type"] == "application/pdf"
    text = " ".join(" ".join(text_of(answer.content)).split())
    for part in ("Tidewater Heating", "House 1", "CO read too low", "never clears an appliance", "do-not-use tag"):
        assert part in text, part


def test_without_anything_to_tell_there_is_no_letter(demo_visit, technician_client, sent):
    healthy = demo_visit("healthy")
    assert "Notice letter" not in sent(technician_client, healthy, text=ONE_HOUSE).content.decode()
    answer = sent(technician_client, healthy, "impact:log-letter", text=ONE_HOUSE)
    assert answer.status_code == 200
    assert "there is nothing to tell in a letter" in answer.content.decode()


@pytest.mark.parametrize("action", ACTIONS)
def test_a_log_that_cannot_be_worked_through_comes_back_in_the_page(low, technician_client, sent, action):
    answer = sent(technician_client, low, action, text="date,O2\n03/04/2026,5\n")
    assert answer.status_code == 422
    assert "03/04/2026,5" in answer.content.decode()


@pytest.mark.parametrize("action", ACTIONS)
def test_files_are_only_for_who_may_see_the_analyzer(
    low, demo_visit, stranger_firm, owner_client, technician_client, sent, action
):
    other = demo_visit("co-cell-dead", whose=stranger_firm)
    assert sent(owner_client, other, action, text=ONE_HOUSE).status_code == 404
    assert sent(owner_client, low, action, text=ONE_HOUSE).status_code == 200
    assert technician_client.get(reverse(action, args=[low.job.analyzer_id])).status_code == 405
