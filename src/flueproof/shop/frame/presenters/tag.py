"""The paper tag of a job: serial, owner, promise, what it waits for, one next act."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.frame.presenters.pages import address_of
from flueproof.shop.records.gas.holding import WAITS_FOR
from flueproof.shop.records.models import Analyzer, Job
from flueproof.shop.records.people.rights import may

# state -> word on the act, address, right
_NEXT: Final = {
    "requested": ("Take in the box", "counter:job", "change-jobs"),
    "arrived": ("Put it on the bench", "bench:visit", "work-bench"),
    "bench": ("Go on at the bench", "bench:visit", "work-bench"),
    "held": ("Note the owner's answer", "counter:job", "change-jobs"),
    "parts": ("Parts are here?", "counter:job", "change-jobs"),
    "to-sign": ("Read and sign", "papers:sign", "sign"),
    "to-return": ("Send it back", "counter:job", "change-jobs"),
    "sent-on": ("Is it back?", "counter:job", "change-jobs"),
    "shipped": ("Has it arrived?", "counter:job", "change-jobs"),
}
_LOOK_AGAIN: Final = ("Look at its tests again", "bench:visit", "work-bench")


@dataclass(frozen=True, slots=True)
class Tag:
    """What stands on a job's tag, ready to print."""

    number: str
    address: str
    serial: str
    model: str
    owner: str
    promised: str
    late: str
    rush: bool
    state: str
    waits_for: str
    next_word: str
    next_address: str


def tag_of(job: Job, person: Any, today: dt.date) -> Tag:
    """Return the tag of a job as a person sees it on a day (a date of the shop)."""
    word, address = _next(job, person)
    return Tag(
        number=job.number,
        address=address_of("counter:job", job.number) if may(person, "see-jobs") else "",
        serial=job.analyzer.serial,
        model=make_and_model(job.analyzer),
        owner=job.owner.name,
        promised=day_text(job.promised_on) if job.promised_on else "no date promised",
        late=_late(job, today),
        rush=job.rush,
        state=job.get_state_display(),
        waits_for=job.waits_for,
        next_word=word,
        next_address=address,
    )


def make_and_model(analyzer: Analyzer) -> str:
    """Return make and model; the make alone only where the model does not begin with it."""
    first = analyzer.make.split(maxsplit=1)[0] if analyzer.make.strip() else ""
    return analyzer.model if first and analyzer.model.startswith(first) else f"{analyzer.make} {analyzer.model}"


def _next(job: Job, person: Any) -> tuple[str, str]:
    doubted = job.state == "held" and job.waits_for == WAITS_FOR
    word, name, right = _LOOK_AGAIN if doubted else _NEXT.get(job.state, ("", "", ""))
    if not word or not may(person, right):
        return "", ""
    address = address_of(name, job.number)
    return (word, address) if address else ("", "")


def _late(job: Job, today: dt.date) -> str:
    if not job.is_open or job.promised_on is None:
        return ""
    days = (today - job.promised_on).days
    if days < 0:
        return ""
    return "due today" if days == 0 else f"{days} day{'' if days == 1 else 's'} late"
