"""Whom a letter goes to, and how it looks on this shop's paper."""

from __future__ import annotations

from datetime import date

from flueproof.papers.call_first_letter import LetterHead
from flueproof.shop.records.models import Person, Shop, Visit


def letter_head(visit: Visit, shop: Shop, written_on: date, by: Person) -> LetterHead:
    """Return the head of a letter to the owner of the analyzer."""
    owner = visit.job.owner
    address = owner.addresses.first()
    return LetterHead(
        (owner.name, *(address.as_lines() if address else ())),
        shop.phone,
        written_on,
        by.name_on_papers,
        shop.paper_size,  # type: ignore[arg-type] # one of the shop's two choices
        shop.paper_units,  # type: ignore[arg-type] # one of the shop's two choices
    )
