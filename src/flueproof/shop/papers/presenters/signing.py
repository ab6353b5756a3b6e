"""The signing page: everything the signer must have read, as ready text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.bench.record.record import Record
from flueproof.bench.record.steps.remarks import NoteStep, StrikeStep
from flueproof.papers.content.checks import action_lines
from flueproof.papers.content.outcome import OUTSIDE, do_not_use, paper_kind, verdict_of
from flueproof.papers.content.references import names_of
from flueproof.papers.content.summary import found_in_words
from flueproof.papers.content.untested import not_tested_lines
from flueproof.papers.content.wording import on_paper
from flueproof.papers.due import date_in_words
from flueproof.shop.records.issuing.making import due_on_paper
from flueproof.shop.records.issuing.on_file import differences_on_file
from flueproof.shop.records.models import Shop, Visit
from flueproof.shop.records.visits.judged import Judged
from flueproof.shop.records.visits.rules.skipping import skips_of


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands beside the paper.

    title, headline: of the paper; certificate: whether it is one; found: as-found failure in words or None;
    gets: what comes out, in words; due: the due line; missing, left_out, stops, notes, said, struck, actions,
    on_file: lines of their sections.
    """

    title: str
    headline: str
    certificate: bool
    found: dict[str, Any] | None
    gets: list[str]
    due: str
    missing: list[str]
    left_out: list[str]
    stops: list[str]
    notes: list[str]
    said: list[str]
    struck: list[str]
    actions: list[dict[str, str]]
    on_file: list[str]


def reading_of(visit: Visit, stands: Judged, shop: Shop) -> Reading | None:
    """Return what the signer reads beside the paper, None where nothing can be judged yet."""
    record, judgement, profile = stands.record, stands.judgement, stands.profile
    if record is None or judgement is None:
        return None
    kind, units, named = paper_kind(record, judgement, profile), shop.paper_units, names_of(record)
    titles = {point.id: point.title for point in profile.points}
    steps = record.standing_steps()
    skipped = skips_of(record)
    skip_notes = {skip.step for skip in skipped.values()}
    return Reading(
        title=on_paper(kind.title),
        headline=kind.headline,
        certificate=kind.certificate,
        found=found_in_words(judgement, profile, units, named),
        gets=_gets(kind.certificate, kind.sticker, tag=bool(do_not_use(judgement))),
        due=_due(record, stands, visit),
        missing=not_tested_lines(judgement.not_tested, profile),
        left_out=[
            f"{titles.get(skip.point, skip.point)}, {skip.phase.replace('-', ' ')}: {skip.why} ({skip.by})"
            for skip in skipped.values()
        ],
        stops=[on_paper(note.text, units, named) for note in judgement.notes if note.blocks],
        notes=list(dict.fromkeys(on_paper(note.text, units, named) for note in judgement.notes if not note.blocks)),
        said=[f"{s.text} ({s.by})" for s in steps if isinstance(s, NoteStep) and s.id not in skip_notes],
        struck=[_struck(s, record) for s in steps if isinstance(s, StrikeStep)],
        actions=[] if kind.certificate else action_lines(verdict_of(judgement), units, named),
        on_file=differences_on_file(visit, stands.tree, shop),
    )


def _gets(certificate: bool, sticker: str | None, *, tag: bool) -> list[str]:  # noqa: FBT001 -- private
    words = {"VERIFIED": "a sticker, “Verified”", "CALIBRATED": "a sticker, “Calibrated”"}
    words |= {"LIMITED": "a sticker that says “Tested in part” and LIMITED"}
    words |= {OUTSIDE: "a sticker that says OUTSIDE LIMITS and carries no due date"}
    gets = ["a certificate with a number of its own" if certificate else "a bench report, which is no certificate"]
    gets.append(words[sticker] if sticker else "no sticker")
    return [*gets, "a do-not-use tag to tie on"] if tag else gets


def _due(record: Record, stands: Judged, visit: Visit) -> str:
    judgement = stands.judgement
    due = due_on_paper(record, judgement) if judgement is not None else None
    if due is not None:
        rule = "the end of the month" if record.order.due.rule == "end-of-month" else "the day"
        return f"{date_in_words(due)}: {record.order.due.months} months to {rule}, as the owner asked"
    if not record.order.due.wanted:
        return (
            "None is printed: the owner did not agree to one"
            if not visit.job.owner.due_agreed
            else ("None is printed: this order asks for none")
        )
    return "None is printed on this paper: only what is inside its limits is due again"


def _struck(step: StrikeStep, record: Record) -> str:
    kinds = {one.id: one.kind.replace("-", " ") for one in record.steps}
    return f"Step {step.strikes} ({kinds.get(step.strikes, 'step')}): {step.why} ({step.by})"
