"""Lending a unit and taking it back: on gas both times, to one owner at a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.loans.gas_check import in_words
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Job, Loan, LoanUnit, Owner, Person

LENT, BACK = "loan unit lent", "loan unit back"
LONGEST_DAYS: Final = 180  # own choice: a loan of half a year is no loan
REMIND_EVERY: Final = timedelta(days=3)  # own choice


class LoanError(ValueError):
    """What cannot be with a loan unit as it stands; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Lending:
    """To whom, until when, for which job, and the check on gas as check_on_gas gives it."""

    owner: Owner
    until: date
    gas: Mapping[str, Any] = field(default_factory=dict)
    given_to: str = ""
    job: Job | None = None


def firm_now(owner: Owner) -> Owner:
    """Return the firm that an owner became where entries were merged; the owner itself where not."""
    seen: set[int] = set()
    while owner.merged_into is not None and owner.pk not in seen:
        seen.add(owner.pk)
        owner = owner.merged_into
    return owner


def running_loan(unit: LoanUnit) -> Loan | None:
    """Return the loan in which a unit is out, None where it is here."""
    found: Loan | None = unit.loans.filter(back_at=None).select_related("owner", "job").first()
    return found


def why_not(unit: LoanUnit) -> str:
    """Return why a unit cannot be lent now, "" when it can."""
    out = running_loan(unit)
    if out is not None:
        return f"{unit} is out: {firm_now(out.owner)} has it until {day_words(out.until)}."
    if not unit.usable:
        return (
            f"{unit} is not to be lent{f': {unit.note}' if unit.note else ''}. Check it on gas and set it right first."
        )
    if unit.analyzer.whereabouts:
        return f"{unit} is reported {unit.analyzer.whereabouts}."
    standing = Job.objects.filter(analyzer_id=unit.analyzer_id, state__in=Job.OPEN).first()
    return f"{unit} has an open job of its own: {standing.number}." if standing is not None else ""


def lend(unit: LoanUnit, wanted: Lending, by: Person, now: datetime, today: date) -> Loan:
    """Give a unit out and return the loan; the same press again returns the first.

    Raises: LoanError for a unit that is out, not to be lent, or not in order on gas; nothing is written then.
    """
    owner = firm_now(wanted.owner)
    _refuse_day(wanted.until, today)
    with transaction.atomic():
        row: LoanUnit = LoanUnit.objects.select_for_update().select_related("analyzer").get(pk=unit.pk)
        out = running_loan(row)
        if out is not None and (out.owner_id, out.until, out.out_by_id) == (owner.pk, wanted.until, by.pk):
            return out
        if said := why_not(row):
            raise LoanError(said)
        if not wanted.gas.get("good"):
            raise LoanError(f"{row} does not leave: {in_words(wanted.gas)}. Put it in order first.")
        if wanted.job is not None and (not wanted.job.is_open or firm_now(wanted.job.owner).pk != owner.pk):
            raise LoanError(f"{wanted.job.number} is no open job of {owner}.")
        loan = Loan(
            unit=row,
            owner=owner,
            job=wanted.job,
            given_to=wanted.given_to.strip()[:120],
            out_at=now,
            out_by=by,
            until=wanted.until,
            gas_out=dict(wanted.gas),
        )
        _save(loan, by)
        if wanted.job is not None:
            text = f"{row} lent until {day_words(wanted.until)}; {in_words(wanted.gas)}"
            note_moment(wanted.job, LENT, by, now, text=text)
    return loan


def take_back(loan: Loan, condition: str, gas: Mapping[str, Any], by: Person, now: datetime) -> Loan:
    """Take a unit back, checked on gas; one that is not in order is not lent again before somebody says so.

    gas: empty where it could not be checked; the unit then waits. Back already changes nothing.
    Raises: LoanError without a word about its condition.
    """
    if not condition.strip():
        raise LoanError("Say how it came back: complete, dry, what is broken or missing.")
    with transaction.atomic():
        row = _locked(loan)
        if row.back_at is not None:
            return row
        row.back_at, row.gas_back, row.condition_back = now, dict(gas), condition.strip()[:300]
        _save(row, by)
        if not gas.get("good"):
            unit = LoanUnit.objects.select_for_update().get(pk=row.unit_id)
            unit.usable, unit.note = False, f"back from {firm_now(row.owner)}: {in_words(gas)}"
            _save(unit, by)
        if row.job is not None:
            note_moment(row.job, BACK, by, now, text=f"{row.unit} is back: {row.condition_back}; {in_words(gas)}")
    return row


def lengthen(loan: Loan, until: date, by: Person, today: date) -> Loan:
    """Let a loan run until another day; reminders begin anew. Raises: LoanError."""
    _refuse_day(until, today)
    with transaction.atomic():
        row = _locked(loan)
        if row.back_at is not None:
            raise LoanError(f"{row.unit} is back already.")
        if row.until != until:
            row.until, row.reminded_at = until, None
            _save(row, by)
    return row


def to_remind(now: datetime, today: date) -> list[Loan]:
    """Return the loans whose day is over and about which nobody wrote in the last days, the longest over first."""
    rows = Loan.objects.filter(back_at=None, until__lt=today).select_related("unit", "owner", "job")
    return [one for one in rows.order_by("until", "id") if _may_remind(one, now)]


def remind(loan: Loan, by: Person | None, now: datetime) -> bool:
    """Write to whoever has the unit; return whether a letter went out. Soon after the last one nothing happens.

    An owner that was merged meanwhile is written to as the firm it became.
    """
    with transaction.atomic():
        row = _locked(loan)
        if row.back_at is not None or not _may_remind(row, now):
            return False
        letter = write_letter("loan-reminder", job=row.job, owner=firm_now(row.owner), loan=row, by=by, now=now)
        if letter is None:
            return False
        row.reminded_at = now
        _save(row, by)
    return True


def set_usable(unit: LoanUnit, gas: Mapping[str, Any], by: Person) -> LoanUnit:
    """Let a unit be lent again, by a check on gas. Raises: LoanError."""
    with transaction.atomic():
        row: LoanUnit = LoanUnit.objects.select_for_update().get(pk=unit.pk)
        if not gas.get("good"):
            raise LoanError(f"{row} stays here: {in_words(gas)}.")
        if not row.usable:
            row.usable, row.note = True, ""
            _save(row, by)
    return row


def _may_remind(loan: Loan, now: datetime) -> bool:
    return loan.reminded_at is None or now - loan.reminded_at >= REMIND_EVERY


def _refuse_day(until: date, today: date) -> None:
    if until < today:
        raise LoanError("The day to be back on has passed already.")
    if until > today + timedelta(days=LONGEST_DAYS):
        raise LoanError(f"A unit is lent for {LONGEST_DAYS} days at most. Is the year right?")


def _locked(loan: Loan) -> Loan:
    row: Loan = Loan.objects.select_for_update(of=("self",)).select_related("unit", "owner", "job").get(pk=loan.pk)
    return row


def _save(row: Any, by: Person | None) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
