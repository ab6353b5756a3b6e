"""Letters that time writes: ready, some minutes after the paper was signed; due soon, some weeks before a check is due.

Due soon goes only to owners who agreed to due dates (ISO/IEC 17025, 7.8.4.3).
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction
from django.db.models import Exists, OuterRef
from django.utils import timezone

from flueproof.shop.records.mailing.facts import analyzer_words, day_words
from flueproof.shop.records.mailing.kinds import kind_named
from flueproof.shop.records.mailing.writing import MOMENT, write_letter
from flueproof.shop.records.models import Analyzer, Job, JobMoment, Letter, Obligation, OwnerContact

DAYS_BEFORE: Final = 30
READY_AFTER: Final = timedelta(minutes=10)
_READY_UNTIL: Final = timedelta(days=2)  # a shop that begins to send e-mails writes about no box of last month
_NOT_AGAIN_FOR: Final = timedelta(days=60)
_AT_ONCE: Final = 200


def write_due_letters(now: datetime) -> int:
    """Write the reminders that are to be written today and return how many; a second call writes none.

    One reminder an analyzer, of what is due first, kept with its last job. Analyzers that are here, that were reported
    lost or stolen, or whose owner wants no e-mail, did not agree or has no address, are left out.
    """
    today = timezone.localdate(now)
    told = Letter.objects.filter(kind="due-soon", job__analyzer=OuterRef("analyzer"), made_at__gte=now - _NOT_AGAIN_FOR)
    due = Obligation.objects.filter(
        Exists(Job.objects.filter(analyzer=OuterRef("analyzer"))),
        Exists(OwnerContact.objects.filter(owner=OuterRef("analyzer__owner")).exclude(email="")),
        ~Exists(Job.objects.filter(analyzer=OuterRef("analyzer"), state__in=Job.OPEN)),
        ~Exists(told),
        next_due__gte=today,
        next_due__lte=today + timedelta(days=DAYS_BEFORE),
        analyzer__owner__due_agreed=True,
        analyzer__owner__no_letters=False,
        analyzer__whereabouts="",
    )
    keys = list(due.order_by("next_due", "id").values_list("pk", flat=True)[:_AT_ONCE])
    return sum(_remind(key, now) for key in keys)


def write_ready_letters(now: datetime) -> int:
    """Write to the owners of jobs whose paper was signed ten minutes ago or more; return how many letters went out.

    Ten minutes, so that a box that is handed over at the counter, or taken back to the bench, needs no letter. Once a
    signing; where nobody can be written to the job says so, once.
    """
    signed = JobMoment.objects.filter(
        what="state",
        state_before="to-sign",
        state_after="to-return",
        at__lte=now - READY_AFTER,
        at__gt=now - _READY_UNTIL,
        job__state="to-return",
    )
    told = Letter.objects.filter(kind="ready", job=OuterRef("job"), made_at__gte=OuterRef("at"))
    keys = list(signed.filter(~Exists(told)).order_by("id").values_list("pk", flat=True)[:_AT_ONCE])
    return sum(_tell_ready(key, now) for key in keys)


def _tell_ready(key: int, now: datetime) -> bool:
    """Write one letter and return True, False where it was written before or there is nobody to write to."""
    with transaction.atomic():
        moment = JobMoment.objects.get(pk=key)
        job = Job.objects.select_for_update().get(pk=moment.job_id)
        told = Letter.objects.filter(kind="ready", job=job, made_at__gte=moment.at).exists()
        title = kind_named("ready").title
        noted = job.moments.filter(what=MOMENT, at__gte=moment.at, text__startswith=f"No e-mail “{title}”").exists()
        if told or noted or job.state != "to-return":
            return False
        return write_letter("ready", job=job, now=now) is not None


def _remind(key: int, now: datetime) -> bool:
    """Write one reminder and return True, False where another sender wrote it a moment ago."""
    with transaction.atomic():
        row = Obligation.objects.select_related("analyzer__owner").get(pk=key)
        unit = Analyzer.objects.select_for_update().get(pk=row.analyzer_id)
        told = Letter.objects.filter(kind="due-soon", job__analyzer=unit, made_at__gte=now - _NOT_AGAIN_FOR)
        last = Job.objects.filter(analyzer=unit).order_by("-id").first()
        if last is None or told.exists():
            return False
        facts = {"due": day_words(row.next_due), "analyzer": analyzer_words(unit.make, unit.model, unit.serial)}
        return write_letter("due-soon", job=last, owner=row.analyzer.owner, now=now, extra=facts) is not None
