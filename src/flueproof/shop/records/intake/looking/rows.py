"""Owners and analyzers read from the database as the plain values that the ranking works with."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Hashable, Iterable
from dataclasses import replace
from typing import Any, Final

from django.db.models import Max, Min

from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile, Place
from flueproof.intake.file.roster import Plate
from flueproof.shop.records.jobs.opening import SERIAL_UNKNOWN
from flueproof.shop.records.models import Analyzer, Job, Obligation, Owner, OwnerAddress, OwnerContact

_AT_ONCE: Final = 500
MOST_PLATES: Final = 60
HERE: Final = ("arrived", "bench", "held", "parts", "to-sign", "to-return")


def owners_read(keys: Collection[int] | None = None) -> dict[int, OwnerOnFile]:
    """Return owners by key with names, people, phones, e-mails and places, but without analyzers; None: all.

    An owner that was merged into another is not there; its names and all of its people and places are the other's.
    """
    stands_for = _stands_for(keys)
    names: dict[int, dict[str, None]] = defaultdict(dict)
    for pk, name in _of(Owner, "pk", stands_for, "pk", "name"):
        if stands_for[pk] == pk:
            names[pk] = {name: None} | names[pk]
        else:
            names[stands_for[pk]][name] = None
    for pk, name in _of(Owner.history.model, "id", stands_for, "id", "name", distinct=True, whole=keys is None):
        if pk in stands_for:
            names[stands_for[pk]][name] = None
    people, places = _people(stands_for, whole=keys is None), _places(stands_for, whole=keys is None)
    return {
        pk: OwnerOnFile(
            pk,
            tuple(own),
            tuple(name for name, _, _ in people.get(pk, ()) if name),
            tuple(dict.fromkeys(phone for _, phone, _ in people.get(pk, ()) if phone)),
            tuple(dict.fromkeys(mail for _, _, mail in people.get(pk, ()) if mail)),
            tuple(places.get(pk, ())),
        )
        for pk, own in names.items()
    }


def plates_read(owners: Collection[int] | None = None) -> list[Plate]:
    """Return the analyzers of owners, the shop's own control analyzer left out; None: of all."""
    stands_for = _stands_for(owners)
    rows = _of(
        Analyzer, "owner_id", stands_for, "pk", "owner_id", "make", "model", "serial", whole=owners is None, own=True
    )
    return [
        Plate(pk, stands_for.get(owner, owner), make, model, read_serial(serial))
        for pk, owner, make, model, serial in rows
    ]


def with_analyzers(
    owners: Iterable[OwnerOnFile],
    first: Collection[Hashable],
    requests: dict[Any, list[OpenRequest]],
    called: dict[int, dt.date],
) -> list[OwnerOnFile]:
    """Return owners with their analyzers, open requests and last call.

    first: keys of analyzers that come before others where an owner has more than are looked at.
    """
    rows = {owner.key: owner for owner in owners}
    plates = plates_read([int(str(key)) for key in rows])
    by_owner: dict[Any, list[Plate]] = defaultdict(list)
    for plate in sorted(plates, key=lambda one: one.key not in first):
        if len(by_owner[plate.owner]) < MOST_PLATES:
            by_owner[plate.owner].append(plate)
    looked_at = [plate.key for own in by_owner.values() for plate in own]
    due = _by_key(Obligation.objects, "analyzer", looked_at, Min("next_due"))
    seen = _by_key(Job.objects, "analyzer", looked_at, Max("opened_at"))
    here = _by_key(Job.objects.filter(state__in=HERE), "analyzer", looked_at, Max("number"))
    return [
        replace(
            owner,
            analyzers=tuple(_on_file(plate, due, seen, here) for plate in by_owner.get(key, ())),
            requests=tuple(requests.get(key, ())),
            called_on=called.get(int(str(key))),
        )
        for key, owner in rows.items()
    ]


def read_serial(serial: str) -> str:
    """Return a serial, "" for one that nobody has read off the plate yet."""
    return "" if serial.startswith(SERIAL_UNKNOWN) else serial


def _stands_for(keys: Collection[int] | None) -> dict[int, int]:
    """Return for every owner key the one that stands for it: itself, or the one that it was merged into.

    Of given keys, those that were merged into one that is not among them are left out.
    """
    pairs = Owner.objects.values_list("pk", "merged_into_id").order_by()
    into: dict[int, int | None] = dict(pairs if keys is None else _of_keys(pairs, "pk", keys))
    layer = [] if keys is None else list(into)
    while layer:
        below = dict(_of_keys(pairs, "merged_into", layer))
        layer = [pk for pk in below if pk not in into]
        into |= {pk: below[pk] for pk in layer}
    found: dict[int, int] = {}
    for pk in into:
        last, steps = pk, 0
        while (after := into.get(last)) is not None and steps < len(into):
            last, steps = after, steps + 1
        if last in into:
            found[pk] = last
    return found


def _of_keys(rows: Any, field: str, keys: Collection[int]) -> Iterable[Any]:
    listed = list(keys)
    for start in range(0, len(listed), _AT_ONCE):
        yield from rows.filter(**{f"{field}__in": listed[start : start + _AT_ONCE]})


def _people(stands_for: dict[int, int], *, whole: bool) -> dict[int, list[tuple[str, str, str]]]:
    found: dict[int, list[tuple[str, str, str]]] = defaultdict(list)
    for owner, *said in _of(OwnerContact, "owner_id", stands_for, "owner_id", "name", "phone", "email", whole=whole):
        found[stands_for[owner]].append((said[0], said[1], said[2]))
    return found


def _places(stands_for: dict[int, int], *, whole: bool) -> dict[int, list[Place]]:
    found: dict[int, list[Place]] = defaultdict(list)
    for owner, *said in _of(OwnerAddress, "owner_id", stands_for, "owner_id", "lines", "postcode", "town", whole=whole):
        found[stands_for[owner]].append(Place(" ".join(said[0].split()), said[1], said[2]))
    return found


def _of(
    model: Any,
    field: str,
    keys: Collection[int],
    *columns: str,
    whole: bool = False,
    distinct: bool = False,
    own: bool = False,
) -> Iterable[Any]:
    """Yield columns of the rows that belong to keys; `whole`: read all in one go; `own`: without our own unit."""
    rows = model.objects.filter(control_unit=False) if own else model.objects.all()
    rows = rows.order_by().distinct() if distinct else rows.order_by("pk")
    if whole:
        yield from rows.values_list(*columns).iterator(chunk_size=5000)
        return
    yield from _of_keys(rows.values_list(*columns), field, keys)


def _by_key(rows: Any, field: str, keys: list[Hashable], what: Any) -> dict[Hashable, Any]:
    found: dict[Hashable, Any] = {}
    for start in range(0, len(keys), _AT_ONCE):
        some = rows.filter(**{f"{field}__in": keys[start : start + _AT_ONCE]}).order_by()
        found |= dict(some.values_list(f"{field}_id").annotate(it=what))
    return found


def _on_file(
    plate: Plate, due: dict[Hashable, Any], seen: dict[Hashable, Any], here: dict[Hashable, str]
) -> AnalyzerOnFile:
    last = seen.get(plate.key)
    return AnalyzerOnFile(
        plate.key,
        plate.make,
        plate.model,
        plate.serial,
        due.get(plate.key),
        last.date() if last else None,
        here.get(plate.key, ""),
    )
