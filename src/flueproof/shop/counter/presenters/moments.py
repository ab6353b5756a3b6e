"""The moments of a job in words: what happened, to which state, who, what was said."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from flueproof.shop.records.models import Job, JobMoment
from flueproof.shop.records.visits.rules.call_first import DECISION, DECISIONS

_WORDS: Final = {"opened": "Job opened", "decision": "Decided", "note": "Note", DECISION: "The owner decided"}


@dataclass(frozen=True, slots=True)
class MomentLine:
    """One moment; before: the state it came from, empty where none changed."""

    at: datetime
    words: str
    before: str
    text: str
    who: str


def moment_lines(job: Job) -> list[MomentLine]:
    """Return the moments of a job, the latest first."""
    return [_line(moment) for moment in job.moments.select_related("by").order_by("-id")]


def _line(moment: JobMoment) -> MomentLine:
    states = dict(Job.STATES)
    moved = moment.what == "state"
    words = states.get(moment.state_after, moment.state_after) if moved else _WORDS.get(moment.what, moment.what)
    return MomentLine(
        at=moment.at,
        words=words[:1].upper() + words[1:],
        before=states.get(moment.state_before, "") if moved else "",
        text=_said(moment),
        who=str(moment.by or ""),
    )


def _said(moment: JobMoment) -> str:
    """Return the text; an owner's decision begins with its code, which becomes words."""
    code, colon, rest = moment.text.partition(":")
    if moment.what == DECISION and colon:
        return f"{dict(DECISIONS).get(code, code)}:{rest}"
    return moment.text
