"""The page of the handbook on the API: its examples are asked and answered as it says, and its table is complete."""

import json
import re

import pytest

from flueproof.shop.api.once import KEPT, REPLAYED
from flueproof.shop.api.paging import PageQuery
from flueproof.shop.api.token_door import REQUESTS_A_MINUTE
from flueproof.shop.records.models import Job, Owner

from .handbook import exchanges, holds, text_of
from .operations import operations, right_of, view_name
from .test_openapi import fits_its_schema

PAGE = "api.md"


@pytest.fixture
def fixed_year(monkeypatch, now):
    from django.utils import timezone

    monkeypatch.setattr(timezone, "now", lambda: now)


@pytest.fixture
def shop_of_the_page(call, analyzer, job, fixed_year):
    """One owner, one analyzer and one job are there, numbered on from what the page shows."""
    from flueproof.shop.records.keeping.numbering import next_number

    while next_number("J", 2026) < job.number:
        pass
    moved = {"owners": Owner.objects.get().pk - 1, "analyzers": analyzer.pk - 1}
    return call, moved


def as_here(value, moved, of="owners"):
    """Return the page's text with the keys that the rows have in this database (PostgreSQL counts on between tests).

    of: whose key an "id" is.
    """
    if not any(moved.values()):
        return value
    text = json.dumps(value)
    for key, room in (("owner", "owners"), ("analyzer", "analyzers"), ("id", of)):
        text = re.sub(rf'"{key}": ([12])\b', lambda found, k=key, r=room: f'"{k}": {int(found[1]) + moved[r]}', text)
    text = re.sub(r'"next": "1"', f'"next": "{1 + moved["owners"]}"', text)
    text = re.sub(r"/owners/2", f"/owners/{2 + moved['owners']}", text)
    text = re.sub(r"/analyzers/2", f"/analyzers/{2 + moved['analyzers']}", text)
    text = re.sub(r"after=1\b", f"after={1 + moved['owners']}", text)
    return json.loads(text)


def test_every_example_is_answered_as_the_page_says(shop_of_the_page):
    call, moved = shop_of_the_page
    seen, replayed = set(), 0
    examples = exchanges(PAGE)
    assert len(examples) >= 12
    for method, path, headers, body, shown in examples:
        assert headers["Authorization"] == "Bearer fp_..."
        kept = {name: value for name, value in headers.items() if name == "Idempotency-Key"}
        here = as_here(path, moved).removeprefix("/api/v1")
        answer = call(method.lower(), here, as_here(body, moved), **kept)
        of = "analyzers" if "serial" in shown else "owners"
        assert holds(as_here(shown, moved, of), answer.json()), (path, answer.json())
        assert fits_its_schema(method.lower(), here, answer), path
        key = kept.get("Idempotency-Key")
        assert answer.headers.get(REPLAYED) == ("true" if key in seen else None)
        replayed += key in seen
        seen |= {key} - {None}
    assert replayed == 1
    assert Owner.objects.count() == Job.objects.count() == 2


def test_the_table_lists_every_operation_with_its_right():
    rows = re.findall(r"(?m)^\| `([A-Z]+) (/\S+)` \| `([a-z-]+)` \| .+ \|$", text_of(PAGE))
    told = {(method, re.sub(r"\{\w+\}", "1", path), right) for method, path, right in rows}
    real = {(method.upper(), path, right_of(view_name(operation))) for method, path, operation in operations()}
    assert told == real
    assert len(rows) == len(real)


def test_every_status_that_is_declared_is_explained():
    declared = {status for _, _, operation in operations() for status in operation["responses"]} - {200, 201}
    told = {int(status) for status in re.findall(r"(?m)^\| (\d{3}) \|", text_of(PAGE))}
    assert declared | {500} == told


def test_the_figures_of_the_page_are_those_of_the_program():
    text = text_of(PAGE)
    limit = PageQuery.model_fields["limit"]
    assert f"`limit` rows, {limit.default} when it is left out, {limit.metadata[1].le} at most" in text
    assert f"more than {REQUESTS_A_MINUTE} requests in a minute" in text
    assert "kept for a week" in text
    assert KEPT.days == 7
