"""Finding papers: what is ready to sign, what was issued, whose it is."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from django.db.models import Prefetch, Q, QuerySet

from flueproof.shop.records.issuing.making import PREFIXES
from flueproof.shop.records.keeping.plate_key import name_key, plate_key
from flueproof.shop.records.models import Analyzer, Job, Owner, Paper, Person
from flueproof.shop.records.people.rights import OWNER

PAGE: Final = 30
_LONG: Final = ("record", "judgement")
_MOST_FOUND: Final = 200
_NUMBER: Final = re.compile(r"^\s*(?:(FP|BR)[-\s]*)?(?:(20\d\d)[-\s]+)?0*(\d{1,7})\s*$", re.IGNORECASE)
_AFTER: Final = "\U0010ffff"
FOR_OWNERS: Final = frozenset({"certificate.pdf", "bench-report.pdf", "tag.pdf", "judgement.json", "issue.json"})


@dataclass(frozen=True, slots=True)
class PapersPage:
    """Some papers, newest first; older: key of the last one where more follow, else None."""

    papers: list[Paper]
    older: int | None


def ready_to_sign(most: int = PAGE) -> list[Job]:
    """Return the jobs that wait for a signature, the earliest promise first."""
    jobs = Job.objects.filter(state="to-sign").select_related("owner", "analyzer")
    return list(jobs.order_by("promised_on", "id")[:most])


def issued_papers(papers: QuerySet[Paper], text: str, before: int | None, today: date, size: int = PAGE) -> PapersPage:
    """Return a page of issued papers, newest first.

    papers: those that may be seen; text: number, serial or owner, empty for all; before: key to go on from.
    """
    found = papers.filter(_matching(text, today)) if text.strip() else papers
    if before is not None:
        found = found.filter(pk__lt=before)
    rows: list[Any] = list(
        with_neighbors(found.select_related("job__owner", "job__analyzer")).order_by("-id")[: size + 1]
    )
    return PapersPage(rows[:size], rows[size - 1].pk if len(rows) > size else None)


def with_neighbors(papers: QuerySet[Paper]) -> QuerySet[Paper]:
    """Return papers with what each amends and what replaced it, without the long texts.

    Both come by queries of their own, for the papers of the page only: joined, the database reads all papers first.
    """
    light = Paper.objects.defer(*_LONG)
    # Few papers amend another; SQLite goes by the index to these few only where the query says that it wants no others.
    neighbors = (Prefetch("amends", queryset=light), Prefetch("amended_by", queryset=light.filter(amends__gt=0)))
    return papers.defer(*_LONG).prefetch_related(*neighbors)


def papers_seen_by(person: Person) -> QuerySet[Paper]:
    """Return the papers that a person may see: an owner's own, the shop's people all."""
    if person.role != OWNER:
        return Paper.objects.all()
    if person.owner_id is None:
        return Paper.objects.none()
    return Paper.objects.filter(Q(job__owner_id=person.owner_id) | Q(job__owner__merged_into_id=person.owner_id))


def may_see_file(person: Person, name: str) -> bool:
    """Return whether a person may have this kind of file: stickers and the bench's own record stay in the shop."""
    return person.role != OWNER or name in FOR_OWNERS


def _matching(text: str, today: date) -> Q:
    """Return the condition for a number, a serial or an owner's name; each goes by an index."""
    wanted = Q(pk__in=())
    if number := _NUMBER.match(text):
        prefix, year, digits = number.groups()
        prefixes = [prefix.upper()] if prefix else list(PREFIXES.values())
        years = [int(year)] if year else [today.year, today.year - 1]
        wanted |= Q(number__in=[f"{one}-{when}-{int(digits):05d}" for one in prefixes for when in years])
    jobs = Q(pk__in=())
    if key := plate_key(text):
        analyzers = Analyzer.objects.filter(serial_key__gte=key, serial_key__lt=key + _AFTER)
        jobs |= Q(analyzer_id__in=list(analyzers.values_list("pk", flat=True)[:_MOST_FOUND]))
    if name := name_key(text):
        owners = Owner.objects.filter(name_key__contains=name)
        jobs |= Q(owner_id__in=list(owners.values_list("pk", flat=True)[:_MOST_FOUND]))
    return wanted | Q(job__in=Job.objects.filter(jobs).values("pk"))
