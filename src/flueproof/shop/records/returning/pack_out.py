"""The pack-out: each part that came goes back or stays with a reason, each check is answered, the box is closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import Job, PackOut, Person
from flueproof.shop.records.returning.packing import NO, NOT_NEEDED, TAG, YES, Check, checks_of

DONE: Final = "packed"
_ANSWERS: Final = frozenset({"", YES, NO, NOT_NEEDED})
_PACKED_IN: Final = "to-return"


class PackOutError(ValueError):
    """What stands against closing the box; `lines` has one sentence for each thing."""

    def __init__(self, lines: Sequence[str]) -> None:
        super().__init__(" ".join(lines))
        self.lines = list(lines)


@dataclass(frozen=True, slots=True)
class Line:
    """A check as it stands: `answer` by the record or a person, `words` beside it, `why` it is left undone."""

    check: Check
    answer: str
    words: str
    why: str

    @property
    def settled(self) -> bool:
        """Return True when the box may leave as far as this goes; a tag is settled by being tied on alone."""
        if self.check.name == TAG:
            return self.answer == YES or self.check.says == NOT_NEEDED
        if self.answer == YES or (self.answer == NOT_NEEDED and self.check.says == NOT_NEEDED):
            return True
        return self.check.safe and bool(self.why)


@dataclass(frozen=True, slots=True)
class PartLine:
    """A part that came: whether it goes back, and why not where it stays."""

    name: str
    goes_back: bool
    stays_why: str

    @property
    def settled(self) -> bool:
        """Return True when it goes back or stays for a reason."""
        return self.goes_back or bool(self.stays_why)


@dataclass(frozen=True, slots=True)
class Packing:
    """The pack-out of a job as it stands now; done: closed, and nothing has come up since."""

    lines: list[Line]
    parts: list[PartLine]
    parts_changed: str
    done: bool
    row: PackOut | None

    def missing(self) -> list[str]:
        """Return what is still open, a sentence each."""
        parts = [f"{one.name}: goes back, or stays for a reason?" for one in self.parts if not one.settled]
        return parts + [_missing(one) for one in self.lines if not one.settled]


@dataclass(frozen=True, slots=True)
class Packed:
    """What a person entered: check name -> (answer, why it is left undone), what goes back, what stays why."""

    answers: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    goes_back: Sequence[str] = ()
    stays: Mapping[str, str] = field(default_factory=dict)
    parts_changed: str = ""


def packing_of(job: Job) -> Packing:
    """Return the pack-out of a job as it stands: what the records say counts before what was entered."""
    row: PackOut | None = PackOut.objects.filter(job=job).first()
    kept: dict[str, Any] = row.checks if row is not None else {}
    lines = [_line(check, kept.get(check.name) or {}) for check in checks_of(job)]
    parts = [
        PartLine(
            name, row is not None and name in row.goes_back, str(row.stays.get(name, "")) if row is not None else ""
        )
        for name in dict.fromkeys(map(str, job.enclosed))
    ]
    changed = row.parts_changed if row is not None and row.parts_changed else job.parts_changed
    still_good = all(line.settled for line in lines) and all(part.settled for part in parts)
    return Packing(lines, parts, changed, _closed(job, row) and still_good, row)


def keep_packing(job: Job, packed: Packed, by: Person) -> PackOut:
    """Keep what was entered so far and return the row; it does not close the box.

    An earlier closing is undone only where something else was entered.

    Raises: PackOutError for what is no answer of a check.
    """
    with transaction.atomic():
        locked = Job.objects.select_for_update().get(pk=job.pk)
        row = PackOut.objects.filter(job=locked).first() or PackOut(job=locked)
        checks = _checked_answers(locked, packed)
        before = (_entered(row.checks, checks), row.goes_back, row.stays, row.parts_changed or locked.parts_changed)
        came = list(dict.fromkeys(map(str, locked.enclosed)))
        row.goes_back = [name for name in came if name in set(packed.goes_back)]
        row.stays = {
            name: packed.stays[name].strip()[:300]
            for name in came
            if name not in row.goes_back and str(packed.stays.get(name, "")).strip()
        }
        row.parts_changed = packed.parts_changed.strip()
        if row.pk is None or before != (checks, row.goes_back, row.stays, row.parts_changed):
            row.checks, row.done_at, row.done_by = checks, None, None
            _save(row, by)
    return row


def close_box(job: Job, by: Person, now: datetime) -> PackOut:
    """Close the box: all that is needed is there. Closed already changes nothing. Raises: PackOutError."""
    with transaction.atomic():
        locked = Job.objects.select_for_update().get(pk=job.pk)
        if locked.state != _PACKED_IN:
            raise PackOutError(
                [f"{locked.number} is {locked.get_state_display()}; a box is packed when it is to go back."]
            )
        found = packing_of(locked)
        if found.missing():
            raise PackOutError(found.missing())
        row = found.row or PackOut(job=locked)
        if found.done:
            return row
        row.checks = {one.check.name: {"answer": one.answer, "words": one.words, "why": one.why} for one in found.lines}
        row.done_at, row.done_by = now, by
        _save(row, by)
        if found.parts_changed != locked.parts_changed:
            locked.parts_changed = found.parts_changed
            _save(locked, by)
        note_moment(locked, DONE, by, now, text=_in_words(found))
    return row


def _entered(kept: Mapping[str, Mapping[str, str]], now: Mapping[str, Any]) -> dict[str, dict[str, str]]:
    """Return of what is kept that which a person enters; what the records answer is not entered."""
    plain = {
        name: {"answer": one.get("answer", ""), "words": "", "why": one.get("why", "")} for name, one in kept.items()
    }
    return {name: one for name, one in plain.items() if name in now}


def _closed(job: Job, row: PackOut | None) -> bool:
    """Return whether the box was closed in this stay at the counter: work at the bench since opens it again."""
    if row is None or row.done_at is None:
        return False
    moved = job.moments.filter(what="state", state_after=_PACKED_IN).exclude(state_before__in=("shipped", "held"))
    last = moved.order_by("-id").values_list("at", flat=True).first()
    return last is None or row.done_at >= last


def _line(check: Check, kept: Mapping[str, str]) -> Line:
    entered = str(kept.get("answer", ""))
    answer = check.says if check.says and not (check.says == NOT_NEEDED and entered == YES) else entered
    return Line(check, answer, check.told, str(kept.get("why", "")))


def _checked_answers(job: Job, packed: Packed) -> dict[str, dict[str, str]]:
    names = {check.name for check in checks_of(job)}
    wrong = [name for name, (answer, _) in packed.answers.items() if name not in names or answer not in _ANSWERS]
    if wrong:
        raise PackOutError([f"{name}: this page sent no answer that we know. Load it again." for name in wrong])
    return {
        name: {"answer": answer, "words": "", "why": why.strip()[:300]}
        for name, (answer, why) in packed.answers.items()
        if answer or why.strip()
    }


def _missing(line: Line) -> str:
    said = f" {line.words}" if line.words else ""
    if line.check.name == TAG:
        return f"{line.check.question}: it does not leave without it.{said}"
    return f"{line.check.question}: not answered, and no reason why not.{said}"


def _in_words(found: Packing) -> str:
    goes = [one.name for one in found.parts if one.goes_back]
    stays = [f"{one.name} stays: {one.stays_why}" for one in found.parts if not one.goes_back]
    undone = [f"{one.check.question}: no, because {one.why}" for one in found.lines if one.answer != YES and one.why]
    said = [f"in the box: {', '.join(goes)}" if goes else "in the box: the analyzer alone", *stays, *undone]
    if found.parts_changed:
        said.append(f"parts changed: {found.parts_changed}")
    return "; ".join(said)


def _save(row: Any, by: Person) -> None:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save()
