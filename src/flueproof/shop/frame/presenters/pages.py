"""The pages in the head of every page, by rights."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.urls import NoReverseMatch, reverse

from flueproof.shop.records.people.rights import OWNER, may

# word, address, app (marks the page one is on), rights of which one is enough
_PAGES: Final = (
    ("Counter", "counter:jobs", ("counter", "requests", "arrivals", "mail", "returns"), ("see-jobs",)),
    ("Promises", "promises:plan", ("promises",), ("see-plan",)),
    ("Bench", "bench:start", ("bench", "live"), ("work-bench",)),
    ("Gas rack", "gas_rack:rack", ("gas_rack",), ("see-jobs",)),
    ("Parts", "parts_store:list", ("parts_store",), ("see-parts",)),
    ("Papers", "papers:list", ("papers",), ("see-own-papers",)),
    ("Duties", "duties:list", ("duties", "impact"), ("see-duties",)),
    ("Flue gas", "flue:page", ("flue",), ("see-own-papers",)),
    ("House", "house:shop", ("house",), ("change-shop",)),
    ("House", "house:people", ("house",), ("change-people",)),
)


@dataclass(frozen=True, slots=True)
class PageLink:
    """One page in the head."""

    word: str
    address: str
    here: bool


def address_of(name: str, *args: Any) -> str:
    """Return the address of a named page, "" when there is none."""
    try:
        return reverse(name, args=args)
    except NoReverseMatch:
        return ""


def page_links(person: Any, app: str) -> list[PageLink]:
    """Return the pages that a person may open; `app` is the one being shown."""
    links: dict[str, PageLink] = {}
    for word, name, apps, rights in _PAGES:
        address = address_of(name)
        if address and word not in links and any(may(person, right) for right in rights):
            links[word] = PageLink(word, address, app in apps)
    return list(links.values())


def first_page(person: Any) -> str:
    """Return where a person begins: the counter, an owner at the papers, else their own page."""
    if getattr(person, "role", "") == OWNER:
        return address_of("papers:list") or reverse("frame:me")
    return address_of("counter:jobs") or reverse("frame:me")
