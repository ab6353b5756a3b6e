"""What a reference of the shop's own is worth after all: its right content, from which day on."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from flueproof.analyzer.units import difference_from_core, difference_to_core
from flueproof.bench.record.reader import record_from_json
from flueproof.bench.record.record import Record
from flueproof.impact.errors import ReferenceChangeError


@dataclass(frozen=True, slots=True)
class ReferenceChange:
    """A reference found wrong.

    content: the reference as it should have stood in the records (one entry of `references`); it tells by kind,
    number and certificate which entries it replaces unless key says so. since: first day on which it was wrong, None:
    from its first use. shift: for a thermometer, manometer or flow meter, what has to be added to the values it gave,
    in its own unit (it read 0.8 K high: -0.8).
    """

    content: Mapping[str, Any]
    since: date | None = None
    shift: float = 0.0
    key: str | None = None

    def keys_in(self, record: Record) -> tuple[str, ...]:
        """Return the record's keys of this reference. Raises: ReferenceChangeError without anything to tell it by."""
        if self.key is not None:
            return (self.key,) if self.key in record.references else ()
        number, certificate = self.content.get("number"), self.content.get("certificate")
        if number is None and certificate is None:
            raise ReferenceChangeError("the reference has neither number nor certificate: name its key in the records.")
        found = []
        for key, one in record.references.items():
            if one.kind != self.content.get("kind"):
                continue
            own_number = getattr(one, "number", None)
            by_number = number is not None and own_number is not None
            if own_number == number if by_number else one.certificate == certificate:
                found.append(key)
        return tuple(found)


def steps_touched(record: Record, change: ReferenceChange) -> tuple[str, ...]:
    """Return the ids of the standing steps that rest on the reference on or after the day it was wrong."""
    keys = set(change.keys_in(record))
    return tuple(
        step.id
        for step in record.standing_steps()
        if getattr(step, "reference", None) in keys and _counts(step.at, change.since)
    )


def record_with(record: Record, change: ReferenceChange) -> Record:
    """Return a copy of a record with the reference's right content; the record itself stays as it is.

    Where the reference was right before `since`, steps before that day keep the old entry under a key of its own.
    Raises: ReferenceChangeError where the record does not use the reference, RecordError for a content that is none.
    """
    keys = change.keys_in(record)
    touched = set(steps_touched(record, change))
    if not keys or not touched:
        raise ReferenceChangeError(f"job {record.job} was not judged with this reference in the time in question.")
    tree = deepcopy(record.to_json_dict())
    for key in keys:
        own = [step for step in tree["steps"] if step.get("reference") == key]
        right = key if all(step["id"] in touched for step in own) else _free_key(key, tree["references"])
        tree["references"][right] = deepcopy(dict(change.content))
        for step in own:
            if step["id"] in touched:
                step["reference"] = right
                _shift(step, change)
    return record_from_json(tree)


def _free_key(key: str, taken: Mapping[str, Any]) -> str:
    key = f"{key}-right"
    while key in taken:
        key += "-again"
    return key


def _shift(step: dict[str, Any], change: ReferenceChange) -> None:
    if change.shift and isinstance(step.get("reference_value"), dict):
        step["reference_value"]["value"] += _shift_in(change, step["reference_value"]["unit"])


def _shift_in(change: ReferenceChange, unit: str) -> float:
    """The shift in the unit that the step was written in: a difference, so it scales."""
    own = str(change.content.get("unit", unit))
    if own == unit:
        return change.shift
    core = {"thermometer": "temperature", "manometer": "pressure"}.get(str(change.content.get("kind")), unit)
    return float(difference_from_core(difference_to_core(change.shift, own, core), unit, core))


def _counts(at: datetime, since: date | None) -> bool:
    return since is None or at.date() >= since
