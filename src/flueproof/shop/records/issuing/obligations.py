"""What is due for an analyzer after work on it: the day it was done, and the next one where the owner agreed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from flueproof.bench.record.record import Record
from flueproof.papers.content.work_done import work_dates
from flueproof.papers.due import due_date
from flueproof.shop.records.models import Analyzer, Job, Obligation


@dataclass(frozen=True, slots=True)
class DueAfter:
    """One obligation as it would stand after this work; next_due: None where the owner agreed to none."""

    obligation: Obligation
    done: date
    next_due: date | None


def due_after_work(analyzer: Analyzer, record: Record) -> list[DueAfter]:
    """Return all obligations of an analyzer as they would stand when this work counts for them."""
    done = work_dates(record)[1]
    return [DueAfter(one, done, next_due(one, done)) for one in analyzer.obligations.order_by("id")]


def next_due(obligation: Obligation, done: date) -> date | None:
    """Return the day on which an obligation is due again, None where nobody agreed to one.

    Source: ISO/IEC 17025:2017, 7.8.4.3, second-hand.
    """
    if not (obligation.agreed_by or obligation.agreed_on):
        return None
    return due_date(done, obligation.months, obligation.rule)


def update_obligations(job: Job, record: Record, chosen: Collection[int] | None) -> list[Obligation]:
    """Note this work at the obligations it fulfils and return them, changed.

    chosen: ids of the obligations, None for all of the analyzer. Where order and owner agreed to a due date and the
    analyzer has no obligation yet, the agreed one is made, unless the analyzer was sold meanwhile. A later day that is
    already noted stays.
    """
    done = work_dates(record)[1]
    rows = list(Obligation.objects.select_for_update().filter(analyzer=job.analyzer).order_by("id"))
    theirs = job.analyzer.owner_id == job.owner_id
    if not rows and theirs and job.due_wanted and job.owner.due_agreed:
        months = job.owner.due_months
        rows = [
            Obligation(
                analyzer=job.analyzer,
                what="yearly verification" if months == 12 else f"verification every {months} months",
                months=months,
                rule=job.owner.due_rule,
                agreed_by=f"{job.owner.name}, with job {job.number}"[:120],
                agreed_on=job.received_on,
            )
        ]
        chosen = None
    changed = []
    for row in rows:
        if (chosen is None or row.pk in chosen) and (row.last_done is None or row.last_done <= done):
            row.last_done, row.next_due = done, next_due(row, done)
            row.save()
            changed.append(row)
    return changed
