"""Whose analyzers and field logs a person may see: an owner's own, the shop's people all."""

from __future__ import annotations

from django.db.models import Q, QuerySet

from flueproof.shop.records.models import Analyzer, FieldLog, Person, Visit
from flueproof.shop.records.people.rights import OWNER, may


def analyzers_seen_by(person: Person) -> QuerySet[Analyzer]:
    """Return the analyzers whose error a person may look into."""
    if person.role != OWNER:
        return Analyzer.objects.all() if may(person, "see-duties") else Analyzer.objects.none()
    if person.owner_id is None:
        return Analyzer.objects.none()
    return Analyzer.objects.filter(Q(owner_id=person.owner_id) | Q(owner__merged_into_id=person.owner_id))


def visits_seen_by(person: Person) -> QuerySet[Visit]:
    """Return the visits that a person may look into: what an analyzer was under an owner before stays with that one."""
    if person.role != OWNER:
        return Visit.objects.all() if may(person, "see-duties") else Visit.objects.none()
    if person.owner_id is None:
        return Visit.objects.none()
    return Visit.objects.filter(Q(job__owner_id=person.owner_id) | Q(job__owner__merged_into_id=person.owner_id))


def logs_seen_by(person: Person) -> QuerySet[FieldLog]:
    """Return the kept field logs that a person may open: of an owner only those that are the owner's own.

    An analyzer that was sold takes no log along: a log belongs to the owner who gave it.
    """
    if person.role != OWNER:
        return FieldLog.objects.all() if may(person, "see-duties") else FieldLog.objects.none()
    if person.owner_id is None:
        return FieldLog.objects.none()
    return FieldLog.objects.filter(Q(owner_id=person.owner_id) | Q(owner__merged_into_id=person.owner_id))


def may_keep(person: Person) -> bool:
    """Return whether a person may keep and erase the field logs that they see."""
    return person.role == OWNER or may(person, "tell-owners")
