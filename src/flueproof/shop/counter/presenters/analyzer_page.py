"""What the page of an analyzer shows: cells, what is due, plates that read alike, its stays, history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils import timezone

from flueproof.shop.frame.presenters.tag import make_and_model
from flueproof.shop.records.filing.lookalikes import lookalikes_of
from flueproof.shop.records.keeping.field_words import gas_in_words, profile_in_words
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import Analyzer, Cell, Job, Obligation, Paper
from flueproof.shop.records.people.rights import may

_MOST_JOBS = 50


@dataclass(frozen=True, slots=True)
class CellLine:
    """A cell with its gas as people write it; out: it is not in the analyzer any more."""

    row: Cell
    gas: str
    out: bool


@dataclass(frozen=True, slots=True)
class DueLine:
    """What is due, in words; late: its day is past; agreed: with whom and when, empty where nobody agreed."""

    row: Obligation
    every: str
    agreed_by: str
    agreed_on: date | None
    late: bool


@dataclass(frozen=True, slots=True)
class LikelyLine:
    """An analyzer on file whose plate reads like the one that was typed."""

    pk: int
    serial: str
    fact: str


def analyzer_page(analyzer: Analyzer, person: Any) -> dict[str, Any]:
    """Return the context of an analyzer's page."""
    jobs = list(analyzer.jobs.select_related("owner", "analyzer").order_by("-id")[:_MOST_JOBS])
    papers = Paper.objects.filter(job__in=jobs).defer("record", "judgement").order_by("-id")
    cells = [CellLine(row, gas_in_words(row.gas), row.removed is not None) for row in analyzer.cells.all()]
    today = timezone.localdate()
    return {
        "analyzer": analyzer,
        "rules": profile_in_words(analyzer.profile),
        "cells": sorted(cells, key=lambda line: line.out),
        "due": [_due_line(row, today) for row in analyzer.obligations.all()],
        "likely": likely_lines(lookalikes_of(analyzer.serial, besides=analyzer.pk)),
        "jobs": [(job, [paper for paper in papers if paper.job_id == job.pk]) for job in jobs],
        "standing": next((job for job in jobs if job.state in Job.OPEN), None),
        "history": history_lines(analyzer, ("cells", "obligations")) if may(person, "see-history") else [],
    }


def likely_lines(found: Iterable[Analyzer]) -> list[LikelyLine]:
    """Return analyzers whose plates read alike, ready for the page."""
    return [LikelyLine(one.pk, one.serial, f"{make_and_model(one)}, {one.owner}") for one in found]


def _due_line(row: Obligation, today: date) -> DueLine:
    every = "every month" if row.months == 1 else f"every {row.months} months"
    late = row.next_due is not None and row.next_due < today
    return DueLine(row, f"{every}, {row.get_rule_display()}", row.agreed_by, row.agreed_on, late)
