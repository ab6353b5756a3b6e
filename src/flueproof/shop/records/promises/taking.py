"""Taking a rush job, or letting one wait: a promise is broken only when its name was said and confirmed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass, replace

from django.db import transaction

from flueproof.promise.clock.wording import day_in_words, moment_in_words
from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, NewOwner, open_job
from flueproof.shop.records.models import Analyzer, Job, JobMoment, Owner, Person, Plan, Shop
from flueproof.shop.records.promises.clock import clock_of, give_promise
from flueproof.shop.records.promises.plan.content import as_content
from flueproof.shop.records.promises.plan.risk import risks_of
from flueproof.shop.records.promises.planning import latest_plan, state_key
from flueproof.shop.records.promises.questions import Answered, Asked, CannotAnswerError, can_be_done


@dataclass(frozen=True, slots=True)
class NewJob:
    """Whose and which analyzer is meant, on file or new, and what is wrong with it."""

    owner: Owner | NewOwner
    analyzer: Analyzer | NewAnalyzer
    complaint: str = ""


class NotConfirmedError(CannotAnswerError):
    """Promises would break that nobody confirmed; `answer` is the answer of now, which names them."""

    def __init__(self, message: str, answer: Answered) -> None:
        super().__init__(message)
        self.answer = answer


def take(asked: Asked, confirmed: Collection[str], by: Person, now: dt.datetime) -> Plan:
    """Promise a job for the day that was asked for, in the plan of the answer, and return that plan.

    confirmed: numbers of the jobs whose promise may break by it. What was taken is kept as a moment with the job, and
    with each job whose promise it breaks. Of two who take the same job for the same day, the second gets the plan of
    the first, and nothing is kept twice.
    Raises: NotConfirmedError, CannotAnswerError; nothing is written then.
    """
    if asked.job is None:
        raise CannotAnswerError("Open the job first; then it can be taken.")
    with transaction.atomic():
        Shop.objects.select_for_update().filter(pk=Shop.here().pk).first()
        answer = can_be_done(asked, now)
        if answer.verdict == "no":
            raise NotConfirmedError("It cannot be done by then any more.", answer)
        unsaid = [one.number for one in answer.breaks if one.number not in confirmed]
        if unsaid:
            raise NotConfirmedError(f"This breaks promises that were not confirmed: {', '.join(unsaid)}.", answer)
        job, already = _rushed(asked.job, by)
        calendar = answer.bench.calendar
        day = calendar.today(asked.by)
        words = f"taken for {moment_in_words(asked.by, calendar)}"
        here_on = (asked.here_on or calendar.today(now)) if job.state == "requested" else None
        given = give_promise(job, now, by, day=day, words=words, here_on=here_on)
        standing = latest_plan() if already and given is None else None
        if standing is not None and job.number in standing.content["jobs"]:
            return standing
        _keep_moments(job, answer, day, by, now)
        bench = replace(answer.bench, states={**answer.bench.states, job.number: clock_of(job, now)})
        return Plan.objects.create(
            made_at=now,
            by=by,
            why=f"{job.number} taken for {day_in_words(day)}",
            found="quick",
            state_key=state_key(now),
            content=as_content(bench, answer.plan, risks_of(bench, answer.plan)),
        )


def open_and_take(asked: Asked, new: NewJob, confirmed: Collection[str], by: Person, now: dt.datetime) -> Job:
    """Open a job that was asked for on the phone and take it with the same press: both, or nothing.

    Raises: OpeningRefusedError, NotConfirmedError, CannotAnswerError; nothing is written then.
    """
    with transaction.atomic():
        Shop.objects.select_for_update().filter(pk=Shop.here().pk).first()
        order = JobOrder(service=asked.service, complaint=new.complaint)
        job = open_job(new.owner, new.analyzer, order, by, now)
        take(replace(asked, job=job), confirmed, by, now)
    job.refresh_from_db()
    return job


def _rushed(job: Job, by: Person) -> tuple[Job, bool]:
    """Return the job as it is now, marked as a rush, and whether it was one before."""
    row: Job = Job.objects.select_for_update(of=("self",)).select_related("owner").get(pk=job.pk)
    already = row.rush
    if not already:
        row.rush = True
        row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
        row.save()
    return row, already


def _keep_moments(job: Job, answer: Answered, day: dt.date, by: Person, now: dt.datetime) -> None:
    broken = "; ".join(f"{one.number} ({one.who})" for one in answer.breaks)
    text = f"for {day_in_words(day)}" + (f"; breaks the promise of {broken}" if broken else "; breaks no promise")
    JobMoment.objects.create(job=job, what="rush taken", by=by, at=now, text=text)
    for one in answer.breaks:
        calendar = answer.bench.calendar
        words = f"{job.number} was taken before it; it will be done {moment_in_words(one.ends, calendar)}"
        JobMoment.objects.create(
            job=answer.bench.jobs[one.number], what="promise will break", by=by, at=now, text=words
        )
