"""The list of boxes in three parts: not known yet, waiting for an answer, known; ready to print."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from django.utils import timezone

from flueproof.shop.records.models import Arrival, OwnerQuestion

_EARLIER: Final = 40
_DAYS: Final = 14
_IN_WORDS: Final = {
    "serial": "plate",
    "make": "make",
    "model": "model",
    "name": "sender",
    "town": "town",
    "postmark": "postmark",
    "phone": "phone",
    "email": "e-mail",
}


@dataclass(frozen=True, slots=True)
class BoxLine:
    """One box: its row, what could be read in one line, and what it waits for."""

    arrival: Arrival
    read: str
    waits_for: str = ""


def box_list(now: dt.datetime) -> dict[str, Any]:
    """Return the boxes of a day's work: unknown, waiting, todays, earlier (of two weeks)."""
    rows = Arrival.objects.select_related("job__owner", "job__analyzer", "analyzer")
    unknown = rows.filter(state__in=("open", "stranger")).order_by("id")
    since = now - dt.timedelta(days=_DAYS)
    known = list(rows.filter(state="known", came_at__gte=since).order_by("-id")[:200])
    asked = _asked(known)
    today = timezone.localdate(now)
    waiting = [one for one in known if one.job_id in asked]
    others = [one for one in known if one.job_id not in asked]
    return {
        "unknown": [BoxLine(one, _read(one)) for one in unknown],
        "waiting": [BoxLine(one, "", asked[one.job_id]) for one in waiting],
        "todays": [BoxLine(one, "") for one in others if timezone.localdate(one.came_at) == today],
        "earlier": [BoxLine(one, "") for one in others if timezone.localdate(one.came_at) != today][:_EARLIER],
        "struck": rows.filter(state="mistake", came_at__gte=now - dt.timedelta(days=1)).order_by("-id")[:5],
    }


def _asked(boxes: Iterable[Arrival]) -> dict[int, str]:
    jobs = [box.job_id for box in boxes]
    questions = OwnerQuestion.objects.filter(job__in=jobs, state="open", kind__in=("missing-part", "paperwork"))
    found: dict[int, list[str]] = {}
    for job, subject, words in questions.values_list("job_id", "subject", "words"):
        found.setdefault(job, []).append(subject or words)
    return {job: ", ".join(parts) for job, parts in found.items()}


def _read(box: Arrival) -> str:
    parts = [f"{words} {box.clues[name]}" for name, words in _IN_WORDS.items() if box.clues.get(name)]
    if box.slip:
        parts.insert(0, f"slip {box.slip}")
    return ", ".join(parts)
