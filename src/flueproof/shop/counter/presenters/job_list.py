"""The job list: its filters as addresses, with how many jobs stand behind each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from urllib.parse import urlencode

from flueproof.shop.records.jobs.listing import CLOSED, JobFilter, open_counts
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import may

_NARROWED: Final = (("rush", "Rush"), ("late", "Late"), ("mine", "Begun by me at the bench"))


@dataclass(frozen=True, slots=True)
class FilterLink:
    """One filter: words, address, whether it is chosen, how many jobs (None: not counted)."""

    words: str
    address: str
    chosen: bool
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """What the address asks for."""

    state: str
    rush: bool
    late: bool
    mine: bool

    def as_filter(self, person: Any, today: date) -> JobFilter:
        """Return the filter of the list."""
        return JobFilter(self.state, self.rush, today if self.late else None, person if self.mine else None)

    def address(self, **changed: Any) -> str:
        """Return the address of the list with something changed; what is not asked for is left out."""
        asked = {"state": self.state, "rush": self.rush, "late": self.late, "mine": self.mine, **changed}
        if asked["state"] in CLOSED:
            asked |= {"rush": False, "late": False, "mine": False}
        said = {name: "yes" if value is True else value for name, value in asked.items() if value}
        return "?" + urlencode(said)


def asked_for(query: Mapping[str, str]) -> Asked:
    """Return what an address asks for; a state that there is not means all open ones."""
    state = query.get("state", "")
    state = state if state in dict(Job.STATES) else ""
    narrowed = {name: state not in CLOSED and query.get(name) == "yes" for name, _ in _NARROWED}
    return Asked(state, **narrowed)


def state_links(asked: Asked) -> list[FilterLink]:
    """Return the filters by state: all open ones, each open state with its count, the closed ones."""
    counts = open_counts()
    links = [FilterLink("All open", asked.address(state=""), not asked.state, sum(counts.values()))]
    for state, words in Job.STATES:
        links.append(FilterLink(words, asked.address(state=state), asked.state == state, counts.get(state)))
    return links


def narrowing_links(asked: Asked, person: Any) -> list[FilterLink]:
    """Return the filters that narrow an open list; pressing a chosen one takes it off."""
    if asked.state in CLOSED:
        return []
    return [
        FilterLink(words, asked.address(**{name: not getattr(asked, name)}), getattr(asked, name))
        for name, words in _NARROWED
        if name != "mine" or may(person, "work-bench")
    ]
