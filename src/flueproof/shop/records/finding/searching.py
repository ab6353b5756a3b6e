"""One box finds all: the search itself.

Every look into the database is a range of the index over (kind, key), in byte order and with a limit, so that a search
for "a" costs no more than one for a whole serial number.
"""

from __future__ import annotations

import re
from typing import Any, Final

from django.db.models import Q, QuerySet

from flueproof.shop.records.finding.comparing import Comparing
from flueproof.shop.records.finding.found import Found, Group, Hit
from flueproof.shop.records.finding.marking import hit_of
from flueproof.shop.records.finding.texts import KINDS, Kind
from flueproof.shop.records.models import SearchKey

LONGEST_TEXT: Final = 100
MOST_TERMS: Final = 5
_BEYOND: Final = "\U0010ffff"
_KEYS_PER_HIT: Final = 4  # one row can have several keys in a range: 555 in 555-0555
_FOLLOWED: Final = 2000  # rows of one term that are compared with the rows they belong to
_NOT_A_LONG_PHONE: Final = 7
Alive = dict[tuple[str, str], list[QuerySet[SearchKey]]]
_PHONE_LIKE: Final = re.compile(r"\+?[\d\s()./-]+")


def search(text: str, each: int = 12) -> Found:
    """Return what is found for a typed or scanned text, at most `each` hits a kind.

    Several words must all stand in a row, or in the rows it belongs to: "tidewater 417" finds that firm's analyzer.
    """
    typed = " ".join(text.split())[:LONGEST_TEXT]
    terms = list(dict.fromkeys(typed.split()))[:MOST_TERMS]
    if not terms:
        return Found(typed)
    hits: dict[tuple[str, int], Hit] = {}
    some_only = False
    for reading in _readings(typed, terms):
        found, left_out = _search(reading, typed, each)
        some_only = some_only or left_out
        for hit in found:
            hits.setdefault((hit.kind, hit.row.pk), hit)
    return Found(typed, _groups(list(hits.values()), each), some_only and not hits)


def _readings(typed: str, terms: list[str]) -> list[list[str]]:
    """Return the ways to read what was typed: "O5 20417" is one serial, "555 010 0123" one phone number, or words."""
    if len(terms) == 1:
        whole = [[typed]]
    else:
        whole = [[typed.replace(" ", "-")], terms] if any(letter.isdecimal() for letter in typed) else [terms]
    digits = re.sub(r"\D", "", typed)
    if _PHONE_LIKE.fullmatch(typed) and len(digits) > _NOT_A_LONG_PHONE:
        whole += [[digits[-length:]] for length in (10, _NOT_A_LONG_PHONE) if len(digits) > length]
    return whole


def _search(terms: list[str], typed: str, each: int) -> tuple[list[Hit], bool]:
    rows: list[tuple[Kind, Any]] = []
    left_out = False
    alive = _alive(terms) if len(terms) > 1 else {}
    for kind in KINDS.values():
        if len(terms) == 1:
            targets = _targets(kind, terms[0], each + 1)
        else:
            targets, some = _intersection(kind, terms, alive, each + 1)
            left_out = left_out or some
        rows += [(kind, row) for row in _rows(kind, targets)]
    return _hits(rows, terms, typed), left_out


def _hits(rows: list[tuple[Kind, Any]], terms: list[str], typed: str) -> list[Hit]:
    return [hit for kind, row in rows if (hit := hit_of(kind, row, terms, typed)) is not None]


def _groups(hits: list[Hit], each: int) -> tuple[Group, ...]:
    groups = []
    for name in KINDS:
        own = sorted((hit for hit in hits if hit.kind == name), key=lambda hit: not hit.exact)
        if own:
            groups.append(Group(name, tuple(own[:each]), len(own) > each))
    return tuple(sorted(groups, key=lambda group: not group.hits[0].exact))


def _range(kind: Kind, way: Comparing, term: str) -> QuerySet[SearchKey] | None:
    """Return the keys of one kind that a term may mean, best first, or None when this way has no use for it."""
    asked = way.term(term)
    if asked is None:
        return None
    key, beginning = asked
    keys = SearchKey.objects.filter(kind=kind.name)
    keys = keys.filter(key__gte=key, key__lt=key + _BEYOND) if beginning else keys.filter(key=key)
    return keys.order_by("key", "-weight", "-target")


def _targets(kind: Kind, term: str, most: int) -> list[int]:
    """Return the keys of the rows that a term finds, best first, each once."""
    found: dict[int, None] = {}
    for way in kind.ways:
        keys = _range(kind, way, term)
        if keys is not None:
            found |= dict.fromkeys(keys.values_list("target", flat=True)[: most * _KEYS_PER_HIT])
    return list(found)[:most]


def _alive(terms: list[str]) -> Alive:
    """Return for each kind and term the ranges that hold a key at all; a term without any ends the search."""
    alive: Alive = {}
    for kind in KINDS.values():
        for term in terms:
            ranges = [keys for way in kind.ways if (keys := _range(kind, way, term)) is not None]
            alive[kind.name, term] = [keys for keys in ranges if keys.order_by().exists()]
    return alive


def _intersection(kind: Kind, terms: list[str], alive: Alive, most: int) -> tuple[list[int], bool]:
    """Return the rows in which all terms stand, each in the row or in one it belongs to, and at least one in the row.

    Also returns True when a term had so many rows that not all were followed.
    """
    places = [(kind.name, "pk"), *((name, f"{path}_id") for name, path in kind.belongs_to.items())]
    if not all(any(alive[name, term] for name, _ in places) for term in terms):
        return [], False
    found: dict[int, None] = {}
    followed: list[QuerySet[SearchKey]] = []
    # Nothing to belong to: all terms stand in the row itself, so that one of them is enough to begin with.
    for anchor in terms if kind.belongs_to else [max(terms, key=len)]:
        fits = [_in_any(places, alive, term) for term in terms if term != anchor]
        for keys in alive[kind.name, anchor]:
            if len(found) < most:
                rows = kind.model.objects.filter(*fits, pk__in=keys.values("target")[:_FOLLOWED])
                found |= dict.fromkeys(rows.order_by("-pk").values_list("pk", flat=True)[:most])
                followed.append(keys)
    left_out = not found and any(keys[_FOLLOWED : _FOLLOWED + 1].exists() for keys in followed)
    return list(found)[:most], left_out


def _in_any(places: list[tuple[str, str]], alive: Alive, term: str) -> Q:
    """Return the condition that a term stands in one of the places of a row."""
    condition = Q()
    for name, path in places:
        for keys in alive[name, term]:
            condition |= Q(**{f"{path}__in": keys.order_by().values("target")})
    return condition


def _rows(kind: Kind, targets: list[int]) -> list[Any]:
    """Return the rows in the order of their keys; a row that is gone meanwhile is left out."""
    if not targets:
        return []
    rows = kind.model.objects.select_related(*kind.belongs_to.values(), *kind.fetched).in_bulk(targets)
    return [rows[target] for target in targets if target in rows]
