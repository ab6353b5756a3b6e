"""The log of letters: what it shows, narrowed by its address."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import urlencode

from django.db.models import Q, QuerySet

from flueproof.shop.records.mailing.kinds import kinds
from flueproof.shop.records.models import Letter

SIZE: Final = 40
_LONGEST: Final = 80
_STATES: Final = dict(Letter.STATES)
_OF_A_LINE: Final = ("text", "html")


@dataclass(frozen=True, slots=True)
class Asked:
    """What the address asks for; before: number of the letter that the page begins below, 0 for the newest."""

    state: str
    kind: str
    words: str
    before: int

    def address(self, **other: Any) -> str:
        """Return the query of the same list with something changed."""
        told = {"state": self.state, "kind": self.kind, "q": self.words, "before": 0} | other
        return "?" + urlencode({name: value for name, value in told.items() if value})


@dataclass(frozen=True, slots=True)
class Narrowing:
    """One link that narrows the list."""

    words: str
    address: str
    chosen: bool
    count: int | None


@dataclass(frozen=True, slots=True)
class LogPage:
    """One page of the log; further: query of the next one, "" on the last."""

    letters: list[Letter]
    states: list[Narrowing]
    kinds: list[tuple[str, str]]
    further: str


def asked_for(query: Any) -> Asked:
    """Return what an address asks for; what makes no sense asks for nothing."""
    state, kind = query.get("state", ""), query.get("kind", "")
    before = query.get("before", "")
    return Asked(
        state=state if state in _STATES else "",
        kind=kind if kind in kinds() else "",
        words=query.get("q", "").replace("\0", "").strip()[:_LONGEST],
        before=int(before) if before.isdecimal() and len(before) < 16 else 0,
    )


def log_page(asked: Asked) -> LogPage:
    """Return the letters that are asked for, the newest first."""
    rows = Letter.objects.select_related("job").defer(*_OF_A_LINE).order_by("-id")
    if asked.state:
        rows = rows.filter(state=asked.state)
    if asked.kind:
        rows = rows.filter(kind=asked.kind)
    if asked.words:
        rows = _with_words(rows, asked.words)
    if asked.before:
        rows = rows.filter(pk__lt=asked.before)
    found = list(rows[: SIZE + 1])
    further = asked.address(before=found[SIZE - 1].pk) if len(found) > SIZE else ""
    return LogPage(found[:SIZE], _states(asked), [(kind.name, kind.title) for kind in kinds().values()], further)


def title_of(kind: str) -> str:
    """Return what a kind is called; one that there is no more by its name."""
    known = kinds().get(kind)
    return known.title if known is not None else kind


def _with_words(rows: QuerySet[Letter], words: str) -> QuerySet[Letter]:
    return rows.filter(
        Q(to__icontains=words)
        | Q(subject__icontains=words)
        | Q(job__number__icontains=words)
        | Q(owner__name__icontains=words)
        | Q(request__code__iexact=words)
    )


def _states(asked: Asked) -> list[Narrowing]:
    """Return the states as links; those that need a hand with their number."""
    links = [Narrowing("All", asked.address(state=""), not asked.state, None)]
    for state, words in Letter.STATES:
        count = Letter.objects.filter(state=state).count() if state != "sent" else None
        links.append(Narrowing(words.capitalize(), asked.address(state=state), asked.state == state, count))
    return links
