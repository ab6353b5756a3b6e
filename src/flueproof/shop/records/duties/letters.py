"""E-mails to owners about what was found wrong: into the outbox, and kept as a try; one that came back tells nobody."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from django.db import transaction

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.records.duties.arising import save
from flueproof.shop.records.duties.notices import Words, suggested, with_rule
from flueproof.shop.records.duties.telling import REACHED, DutyEndedError, DutyError, keep_act, locked
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Duty, DutyAct, Letter, Owner, Person, ReferenceFinding

FOUND, REFERENCE = "found-wrong", "reference-wrong"
NOT_THERE: Final = ("failed", "bounced")
MOST_SIGNS: Final = 3_600
"""Of one e-mail; an owner of many analyzers gets a second one before words would be cut."""


@dataclass(frozen=True, slots=True)
class Written:
    """What came of writing to all owners of a finding: the letters, and the owners to be called instead."""

    letters: tuple[Letter, ...]
    to_call: tuple[Owner, ...]


def send_notice(duty: Duty, words: Words, to: str, by: Person, now: dt.datetime) -> DutyAct:
    """Write the e-mail about a duty, keep it as an act, and return the act; a second press writes nothing more.

    Raises: DutyError where nobody can be written to, DutyEndedError where somebody told the owner before.
    """
    if not words.subject.strip() or not words.text.strip():
        raise DutyError("An e-mail needs a subject and words.")
    with transaction.atomic():
        row = locked(duty)
        if row.state != "open":
            raise DutyEndedError(f"This is done already: {row.get_state_display()}.", row)
        letter = write_letter(
            _kind(row), job=row.visit.job, to=to, by=by, now=now,
            extra={"subject": words.subject.strip(), "words": with_rule(words.text)},
        )  # fmt: skip
        if letter is None:
            raise DutyError(f"{row.owner} has no e-mail address, or wants no e-mail. Call, and keep the call here.")
        return _kept(row, letter, by, now)


def write_all(finding: ReferenceFinding, by: Person, now: dt.datetime) -> Written:
    """Write to every owner who still has to be told of a finding, one e-mail for all their analyzers.

    Who is called the same day is written to as well, and stays on the list until somebody has spoken to them.
    """
    letters: list[Letter] = []
    to_call: list[Owner] = []
    duties = finding.duties.filter(state="open").select_related("owner", "analyzer", "visit__job").order_by("owner_id")
    by_owner: dict[int, list[Duty]] = {}
    for duty in duties.order_by("owner__name", "id"):
        if not duty.acts.filter(way="e-mail").exclude(letter__state__in=NOT_THERE).exists():
            by_owner.setdefault(duty.owner_id, []).append(duty)
    for own in by_owner.values():
        written = _to_owner(own, by, now)
        letters += written
        if not written:
            to_call.append(own[0].owner)
    return Written(tuple(letters), tuple(to_call))


def open_undelivered(now: dt.datetime) -> int:
    """Open every duty again that rests on e-mails alone which did not arrive; return how many."""
    count = 0
    gone = DutyAct.objects.filter(way="e-mail", letter__state__in=NOT_THERE, duty__state="told").select_related("by")
    for act in gone.order_by("id"):
        with transaction.atomic():
            row = locked(act.duty)
            others = row.acts.filter(way__in=REACHED).exclude(letter__state__in=NOT_THERE)
            if row.state != "told" or others.exists():
                continue
            row.state = "open"
            save(row, None)
            said = f"Opened again: the e-mail to {act.whom} did not arrive."
            DutyAct.objects.create(duty=row, way="note", words=said, at=now, by=act.by)
            count += 1
    return count


def _to_owner(duties: list[Duty], by: Person, now: dt.datetime) -> list[Letter]:
    """Write to one owner about some analyzers; nothing is written where there is no address."""
    letters: list[Letter] = []
    for part in _parts(duties, by, now):
        with transaction.atomic():
            rows = [row for duty, _ in part if (row := locked(duty)).state == "open"]
            if not rows:
                continue
            words = _together([said for duty, said in part if duty.pk in {row.pk for row in rows}])
            letter = write_letter(
                _kind(rows[0]), job=rows[0].visit.job if len(rows) == 1 else None, owner=rows[0].owner, by=by, now=now,
                extra={"subject": words.subject, "words": with_rule(words.text)},
            )  # fmt: skip
            if letter is None:
                return letters
            for row in rows:
                _kept(row, letter, by, now)
            letters.append(letter)
    return letters


def _parts(duties: list[Duty], by: Person, now: dt.datetime) -> Iterable[list[tuple[Duty, Words]]]:
    """Yield as many analyzers at a time as one e-mail holds."""
    part: list[tuple[Duty, Words]] = []
    signs = 0
    for duty in duties:
        said = suggested(duty, by, now)
        if part and signs + len(said.subject) + len(said.text) > MOST_SIGNS:
            yield part
            part, signs = [], 0
        part.append((duty, said))
        signs += len(said.subject) + len(said.text)
    if part:
        yield part


def _together(said: list[Words]) -> Words:
    if len(said) == 1:
        return said[0]
    text = "\n\n".join(f"{one.subject}\n{one.text.replace(ONE_RULE, '').strip()}" for one in said)
    return Words(f"{len(said)} of your analyzers were checked with a reference of ours that was wrong", text)


def _kept(row: Duty, letter: Letter, by: Person, now: dt.datetime) -> DutyAct:
    again = row.acts.filter(letter=letter).first()
    if again is not None:
        return again
    if letter.state in NOT_THERE:
        return keep_act(row, "not-reached", by, now, words=f"No e-mail: {letter.trouble}", letter=letter)
    return keep_act(row, "e-mail", by, now, whom=letter.to, words=letter.subject, letter=letter)


def _kind(duty: Duty) -> str:
    return REFERENCE if duty.kind == "reference" else FOUND
