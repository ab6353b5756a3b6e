"""A reference of the shop's own was wrong: every visit that rests on it is judged again, nothing old is altered."""

from __future__ import annotations

import datetime as dt
import json
import logging
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import QuerySet
from pydantic import ValidationError

from flueproof.bench.bundle import bundle_from_dict
from flueproof.bench.record.reader import record_from_json
from flueproof.impact.errors import ReferenceChangeError
from flueproof.impact.reference.change import ReferenceChange
from flueproof.impact.reference.many_visits import VisitAgain, VisitToJudge, judge_visits_again
from flueproof.impact.reference.telling import reference_duty
from flueproof.metrology.conformity import decision_rule
from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.duties.arising import DUTY, due_on, save, today_of, units_of
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.gas.withdrawing import taken_in, withdraw
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import (
    BenchEvent,
    Duty,
    Paper,
    Person,
    RecomputedVisit,
    Reference,
    ReferenceFinding,
    Shop,
    Visit,
)
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import STEP

_LOG = logging.getLogger(__name__)


class FindingError(ValueError):
    """What was said of the reference cannot be kept; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the visits of a finding are judged again."""

    done: int
    all: int

    @property
    def finished(self) -> bool:
        """Whether no visit is left."""
        return self.done >= self.all


def declare_wrong(
    reference: Reference,
    content: dict[str, Any],
    how: str,
    by: Person,
    now: dt.datetime,
    *,
    since: dt.date | None = None,
    shift: float = 0.0,
) -> ReferenceFinding:
    """Keep what a reference is worth after all, withdraw it, and return the finding; its visits are judged beside.

    content, shift, since: as in ReferenceFinding. The same said twice is one finding. Raises: FindingError.
    """
    words = how.strip()
    if not words:
        raise FindingError("Write how it was found: which certificate, which comparison.")
    try:
        certified(content)
    except ValidationError as error:
        first = error.errors()[0]
        raise FindingError(f"{'.'.join(str(part) for part in first['loc'])}: {first['msg']}") from error
    if reference.kind == "test-gas" and shift:
        raise FindingError("A cylinder gives no values to shift: change the value of the gas that was wrong.")
    if content == reference.content and not shift:
        raise FindingError("This is what stands in the records already: change the value that was wrong.")
    if since is not None and since > today_of(now):
        raise FindingError("It was wrong from a day on that has been: correct the day.")
    with transaction.atomic():
        row: Reference = Reference.objects.select_for_update().get(pk=reference.pk)
        last = row.findings.first()
        if last is not None and (last.content, last.shift, last.since) == (content, shift, since):
            return last
        finding = ReferenceFinding.objects.create(
            reference=row, content=content, shift=shift, since=since, how=words, at=now, by=by
        )
        withdraw(row, f"Found wrong: {words}", by, now)
        tell("reference-found-wrong", {"reference": row.code, "finding": finding.pk, "how": words}, now)
    return finding


def visits_of(finding: ReferenceFinding) -> QuerySet[Visit]:
    """Return every visit whose record holds the reference, in the order in which they were opened."""
    keys = taken_in(finding.reference).values("visit_id")
    return Visit.objects.filter(pk__in=keys).order_by("pk")


def resting_on(reference: Reference, since: dt.date | None = None) -> tuple[int, int]:
    """Return how many visits, of how many owners, would be looked at: those that hold the reference since a day."""
    keys = taken_in(reference).values("visit_id")
    rows = Visit.objects.filter(pk__in=keys)
    if since is not None:
        rows = rows.filter(pk__in=BenchEvent.objects.filter(kind=STEP, at__date__gte=since).values("visit_id"))
    return rows.count(), rows.values("job__owner").distinct().count()


def progress_of(finding: ReferenceFinding) -> Progress:
    """Return how many visits were judged again, and of how many."""
    return Progress(finding.visits.count(), visits_of(finding).count())


def judge_on(finding: ReferenceFinding, now: dt.datetime, most: int | None = None) -> Iterator[RecomputedVisit]:
    """Judge again what is left, keeping each visit at once: it can be broken off anywhere and goes on from there.

    most: end after so many. Another process at the same work is no harm: a visit is kept once.
    """
    change = ReferenceChange(finding.content, finding.since, finding.shift, finding.reference.code)
    done = finding.visits.values("visit_id")
    left = visits_of(finding).exclude(pk__in=done).select_related("job__owner", "job__analyzer")
    for visit in left[:most] if most is not None else left.iterator(chunk_size=200):
        again = _again(visit, change)
        kept = _keep(finding, visit, again, now)
        if kept is not None:
            yield kept


def _again(visit: Visit, change: ReferenceChange) -> VisitAgain:
    """Judge one visit again; whatever is wrong with it is kept as its trouble, so that the others have their turn."""
    try:
        return next(judge_visits_again([_to_judge(visit)], change))
    except Exception as error:  # noqa: BLE001 -- an old paper that nothing reads any more must not stop the others
        _LOG.exception("visit %s could not be judged again", visit.pk)
        return VisitAgain(visit.job.number, None, f"Its record cannot be read any more ({type(error).__name__}).")


def _to_judge(visit: Visit) -> VisitToJudge:
    """Return the visit as its last paper froze it; one without a paper as its record stands now."""
    paper = visit.papers.filter(amended_by=None).order_by("-id").first()
    if paper is None:
        return VisitToJudge(visit.job.number, lambda: _standing(visit))
    rule = paper.judgement["decision_rule"]
    return VisitToJudge(
        visit.job.number,
        lambda: _signed(paper, visit),
        bundle=bundle_from_dict(paper.judgement["bundle"]),
        rule=decision_rule(rule["name"], rule.get("r")),
    )


def _standing(visit: Visit) -> tuple[Any, Any]:
    stands = judged(visit)
    if stands.record is None:
        raise ReferenceChangeError("nothing was measured in this visit.")
    return stands.record, stands.profile


def _signed(paper: Paper, visit: Visit) -> tuple[Any, Any]:
    return record_from_json(json.loads(paper.record)), judged(visit).profile


def _keep(finding: ReferenceFinding, visit: Visit, again: VisitAgain, now: dt.datetime) -> RecomputedVisit | None:
    """Keep what came of a visit, with the duty that follows; None where another process was faster."""
    judged_anew = again.rejudged
    try:
        with transaction.atomic():
            row = RecomputedVisit.objects.create(
                finding=finding,
                visit=visit,
                before=_side(again, "before"),
                after=_side(again, "after"),
                changed=len(judged_anew.changed) if judged_anew else 0,
                danger=len(judged_anew.danger) if judged_anew else 0,
                trouble=again.trouble,
                at=now,
            )
            if judged_anew is not None:
                _duty(finding, visit, again, now)
    except IntegrityError:
        return None
    return row


def _side(again: VisitAgain, side: str) -> dict[str, Any]:
    """Return the points and the outcome of one side, with plain values."""
    if again.rejudged is None:
        return {}
    outcome = again.rejudged.outcome_before if side == "before" else again.rejudged.outcome_after
    points = [
        {
            "step": one["step"],
            "phase": one["phase"],
            "channel": one["channel"],
            "unit": one["unit"],
            "limit": one["limit"],
            "reference": one[f"reference_{side}"],
            "error": one[f"error_{side}"],
            "U": one[f"U_{side}"],
            "statement": one[side],
        }
        for one in (point.as_dict() for point in again.rejudged.points)
    ]
    return {"points": points, "outcome": dict(outcome)}


def _duty(finding: ReferenceFinding, visit: Visit, again: VisitAgain, now: dt.datetime) -> None:
    if again.rejudged is None:
        return
    _overtake(finding, visit)
    found = reference_duty(again.rejudged, finding.reference.code, units_of(Shop.here()))
    if found is None:
        return
    row = Duty(
        kind="reference",
        key=f"finding-{finding.pk}-visit-{visit.pk}",
        owner=visit.job.owner,
        analyzer=visit.job.analyzer,
        visit=visit,
        finding=finding,
        facts=found.as_dict(),
        arose_at=now,
        due_on=due_on(found, now),
    )
    save(row, finding.by)
    note_moment(visit.job, DUTY, finding.by, now, text=f"The owner must be told: {found.headline}")


def _overtake(finding: ReferenceFinding, visit: Visit) -> None:
    """End what an earlier finding about the same reference left open for a visit: this one knows better."""
    earlier = Duty.objects.filter(visit=visit, state="open", finding__reference=finding.reference)
    for row in earlier.filter(finding_id__lt=finding.pk):
        row.state, row.why_not = "overtaken", "Overtaken: the reference was judged again with another value."
        save(row, finding.by)
