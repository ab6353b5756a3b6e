"""What the page of a job shows: the tag, the acts of its state, order, owner, papers, what happened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.utils import timezone

from flueproof.shop.counter.forms.job import ReceiveForm
from flueproof.shop.counter.forms.moving import HandOutForm, HoldForm, NoteForm, ReleaseForm
from flueproof.shop.counter.presenters.moments import moment_lines
from flueproof.shop.frame.presenters.pages import address_of
from flueproof.shop.records.jobs.moves import Move, moves_offered
from flueproof.shop.records.jobs.moving import states_after
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import may

# The bench page does these with its own checks, handing out has a form of its own.
_ELSEWHERE: Final = frozenset({("arrived", "bench"), ("bench", "to-sign"), ("to-return", "returned")})
_AT_THE_BENCH: Final = frozenset({"arrived", "bench", "held", "parts", "to-sign", "to-return", "sent-on", "shipped"})
# Parts of the job's page that other pages own; each loads by itself.
_PANELS: Final = (
    ("Owner to be told", "duties:job-panel"),
    ("Promise", "promises:job-panel"),
    ("Box and paperwork", "arrivals:job-panel"),
    ("Quotes and way back", "returns:job-panel"),
    ("E-mails and questions", "mail:job-panel"),
)


@dataclass(frozen=True, slots=True)
class Refused:
    """A move that was refused: which, why, and the reason that was typed."""

    to: str
    error: str
    why: str


def job_page(job: Job, person: Any, forms: dict[str, Any] | None = None, refused: Refused | None = None) -> Any:
    """Return the context of the job's page.

    forms: by name (receive, release, hand_out, hold, note) those that were sent and refused; the others are made fresh.
    """
    visits = list(job.visits.order_by("number"))
    return {
        "job": job,
        "forms": _fresh(job) | (forms or {}),
        "sent": next(iter(forms or ()), ""),
        "moves": _moves(job, person),
        "refused": refused,
        "may_hold": "held" in states_after(job.state) and job.state != "parts" and may(person, "change-jobs"),
        "at_the_bench": job.state in _AT_THE_BENCH and (visits or job.state == "arrived"),
        "awaited": list(job.questions.filter(state="open", stops=True)[:1]) if job.is_open else [],
        "calls_first": bool(visits) and job.state == "held" and (job.service == "call-first" or job.owner.call_first),
        "visits": visits,
        "panels": [(words, address) for words, name in _PANELS if (address := address_of(name, job.number))],
        "contacts": list(job.owner.contacts.all()),
        "papers": list(job.papers.defer("record", "judgement").select_related("amends").order_by("-id")),
        "earlier": list(job.analyzer.jobs.exclude(pk=job.pk).order_by("-id")[:5]),
        "moments": moment_lines(job),
        "history": history_lines(job) if may(person, "see-history") else [],
    }


def _fresh(job: Job) -> dict[str, Any]:
    """Return the forms that the job's state asks for."""
    made: dict[str, Any] = {"hold": HoldForm(auto_id="hold_%s"), "note": NoteForm(auto_id="note_%s")}
    if job.state == "requested":
        made["receive"] = ReceiveForm(instance=job, initial={"received_on": timezone.localdate()})
    if job.state in {"held", "parts"}:
        made["release"] = ReleaseForm(job=job)
    if job.state == "to-return":
        made["hand_out"] = HandOutForm(job=job)
    return made


def _moves(job: Job, person: Any) -> list[Move]:
    """Return the moves with a button here: plain ones first, then those that need a reason, then grave ones."""
    offered = [move for move in moves_offered(job, person) if (job.state, move.to) not in _ELSEWHERE]
    return sorted(offered, key=lambda move: (move.grave, move.needs_reason))
