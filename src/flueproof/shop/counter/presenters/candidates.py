"""Owners and analyzers on file that a caller may mean."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from flueproof.shop.frame.presenters.tag import make_and_model
from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.finding.texts import ANALYZER, CONTACT, OWNER
from flueproof.shop.records.models import Analyzer, Job, Owner

_EACH = 8


@dataclass(frozen=True, slots=True)
class Candidate:
    """One that can be chosen: kind `owner` or `analyzer`; job: number of its open job, which is opened instead."""

    kind: str
    pk: int
    title: str
    fact: str
    job: str = ""


def candidates(text: str) -> list[Candidate]:
    """Return what a typed text may mean: analyzers first, then firms, each once."""
    units, firms = _found(text)
    return analyzers_as_candidates(units.values(), with_owner=True) + _as_owners(firms)


def owners_as_candidates(text: str, besides: int) -> list[Candidate]:
    """Return the firms that a typed text may mean, but the one with this key and those that were merged."""
    firms = {pk: found for pk, found in _found(text)[1].items() if pk != besides and found[0].merged_into_id is None}
    return _as_owners(firms)


def _found(text: str) -> tuple[dict[int, Analyzer], dict[int, tuple[Owner, str]]]:
    units: dict[int, Analyzer] = {}
    firms: dict[int, tuple[Owner, str]] = {}
    for group in search(text, each=_EACH).groups:
        for hit in group.hits:
            row: Any = hit.row
            if group.kind == ANALYZER:
                units[row.pk] = row
            elif group.kind == OWNER:
                firms.setdefault(row.pk, (row, "customer number " + row.number if row.number else ""))
            elif group.kind == CONTACT:
                firms.setdefault(row.owner_id, (row.owner, f"{row.name} {row.phone}".strip()))
    return units, firms


def _as_owners(firms: dict[int, tuple[Owner, str]]) -> list[Candidate]:
    return [Candidate("owner", pk, owner.name, fact) for pk, (owner, fact) in firms.items()]


def analyzers_as_candidates(units: Iterable[Analyzer], *, with_owner: bool) -> list[Candidate]:
    """Return analyzers to choose from, each with its open job where it has one."""
    rows = list(units)
    jobs = Job.objects.filter(analyzer__in=rows, state__in=Job.OPEN).order_by("pk")
    standing = dict(jobs.values_list("analyzer_id", "number"))
    return [
        Candidate(
            "analyzer",
            row.pk,
            row.serial,
            make_and_model(row) + (f", {row.owner.name}" if with_owner else ""),
            standing.get(row.pk, ""),
        )
        for row in rows
    ]
