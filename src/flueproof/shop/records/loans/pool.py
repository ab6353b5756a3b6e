"""The pool: which units there are, where they are, and which to offer when a promise is at risk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.loans.loan import LoanError, firm_now, running_loan, why_not
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.models import Analyzer, Job, Loan, LoanUnit, Owner, Person

_AT_WORK: Final = frozenset({"arrived", "bench", "held", "parts", "to-sign", "sent-on"})


@dataclass(frozen=True, slots=True)
class UnitStands:
    """A unit and where it is: `loan` and the firm that has it while it is out, why it cannot be lent, days over."""

    unit: LoanUnit
    loan: Loan | None
    firm: Owner | None
    why_not: str
    days_over: int


def pool(today: date) -> list[UnitStands]:
    """Return all units by name."""
    return [stands(unit, today) for unit in LoanUnit.objects.select_related("analyzer").order_by("name")]


def stands(unit: LoanUnit, today: date) -> UnitStands:
    """Return where a unit is."""
    loan = running_loan(unit)
    over = max((today - loan.until).days, 0) if loan is not None else 0
    return UnitStands(unit, loan, firm_now(loan.owner) if loan is not None else None, why_not(unit), over)


def add_unit(analyzer: Analyzer, name: str, enclosed: Sequence[str], note: str, by: Person) -> LoanUnit:
    """Take an analyzer of the shop's own into the pool; it is there already: that unit. Raises: LoanError."""
    if not name.strip():
        raise LoanError("Give it a name, such as Loan 3: it stands on its case.")
    with transaction.atomic():
        locked = Analyzer.objects.select_for_update().get(pk=analyzer.pk)
        standing: LoanUnit | None = LoanUnit.objects.filter(analyzer=locked).first()
        if standing is not None:
            return standing
        if LoanUnit.objects.filter(name__iexact=name.strip()).exists():
            raise LoanError(f"Another unit is called {name.strip()}.")
        if locked.control_unit:
            raise LoanError("The control analyzer stays at the bench: it is what bottles are checked with.")
        unit = LoanUnit(analyzer=locked, name=name.strip()[:40], enclosed=list(enclosed), note=note.strip())
        row: Any = unit
        row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
        unit.save()
    return unit


def at_risk(job: Job, today: date) -> str:
    """Return why a job's owner may need a unit meanwhile, "" where nothing speaks for it.

    The promise is over, due within a day and not ready, later than the owner needs it, or the job waits.
    """
    if job.state not in _AT_WORK:
        return ""
    if job.needed_by is not None and (job.promised_on is None or job.promised_on > job.needed_by):
        return f"The owner needs it by {day_words(job.needed_by)}, before it is promised."
    if job.promised_on is not None and job.promised_on < today:
        return "The promised day is over."
    if job.promised_on is not None and job.promised_on <= today + timedelta(days=1) and job.state != "to-sign":
        return "It is due within a day and not ready."
    if job.state in {"parts", "sent-on"}:
        return "It waits, and its owner works without it."
    return ""


def offered(job: Job, today: date) -> list[LoanUnit]:
    """Return the units to offer with a job at risk: free ones, those with the same service rules first."""
    if not at_risk(job, today) or job.loans.filter(back_at=None).exists():
        return []
    free = [unit for unit in LoanUnit.objects.select_related("analyzer").order_by("name") if not why_not(unit)]
    return sorted(free, key=lambda unit: (unit.analyzer.profile != job.analyzer.profile, unit.name))[:3]
