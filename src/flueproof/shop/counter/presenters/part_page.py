"""The page of a part: a person or an address of an owner, a cell of an analyzer, something due for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.urls import reverse

from flueproof.shop.counter.forms.analyzer import CellForm, ObligationForm
from flueproof.shop.counter.forms.controls import work_begins
from flueproof.shop.counter.forms.owner import AddressForm, ContactForm
from flueproof.shop.records.filing.removing import Removed
from flueproof.shop.records.keeping.field_words import moment_in_words
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import (
    Analyzer,
    Cell,
    Obligation,
    Owner,
    OwnerAddress,
    OwnerContact,
)


@dataclass(frozen=True, slots=True)
class Part:
    """A kind of part.

    name: of its addresses (`counter:<name>-new`) and its place on the parent's page; parent: field that leads to the
    owner or analyzer; word: what people call it; about: said under the heading; removing: what removing means;
    on_papers: the open bench records follow.
    """

    name: str
    model: Any
    form: type[VersionedModelForm]
    parent: str
    parent_model: Any
    word: str
    about: str
    removing: str
    on_papers: bool = False

    def rows_of(self, parent: Any) -> Any:
        """Return the rows of a parent."""
        return self.model.objects.filter(**{self.parent: parent})

    def address_of(self, parent: Any) -> str:
        """Return where the part stands on its parent's page."""
        return f"{reverse(f'counter:{self.parent}', args=[parent.pk])}#{self.name}"


PARTS: Final[dict[str, Part]] = {
    part.name: part
    for part in (
        Part(
            "person",
            OwnerContact,
            ContactForm,
            "owner",
            Owner,
            "person",
            "Whom the counter rings, and for what.",
            "Not there any more? Remove them; the history keeps name and number.",
        ),
        Part(
            "address",
            OwnerAddress,
            AddressForm,
            "owner",
            Owner,
            "address",
            "Where parcels or bills go. The first address stands on the papers.",
            "The history keeps it. Papers that are signed stay as they are.",
            on_papers=True,
        ),
        Part(
            "cell",
            Cell,
            CellForm,
            "analyzer",
            Analyzer,
            "cell",
            "As it stands on the cell. A bench record that is open keeps the cells as they were when it began.",
            "Only when it was entered by mistake. A cell that came out keeps its line, with the day under Taken out.",
        ),
        Part(
            "due",
            Obligation,
            ObligationForm,
            "analyzer",
            Analyzer,
            "due date",
            "What the owner wants to be reminded of. An analyzer can have several.",
            "When the owner does not want it any more. Papers that are signed stay as they are.",
        ),
    )
}


def new_values(part: str, parent: Any) -> dict[str, Any]:
    """Return what a new part begins with: a due date as its owner agreed to due dates."""
    if part != "due" or not parent.owner.due_agreed:
        return {}
    return {"months": parent.owner.due_months, "rule": parent.owner.due_rule}


def part_page(part: Part, parent: Any, form: Any, row: Any | None = None, *, kept: bool = False) -> dict[str, Any]:
    """Return the context of a part's page.

    row: as it stands, None for a new one; kept: it was to be removed, and somebody changed it meanwhile.
    """
    add = reverse(f"counter:{part.name}-new", args=[parent.pk])
    there = reverse(f"counter:{part.name}", args=[parent.pk, row.pk]) if row is not None else add
    return {
        "part": part,
        "parent": parent,
        "form": work_begins(form),
        "row": row,
        "kept": kept,
        "form_address": there,
        "back": part.address_of(parent),
        "remove": reverse(f"counter:{part.name}-remove", args=[parent.pk, row.pk]) if row is not None else "",
        "seen": getattr(row, "version", 0),
    }


def gone_in_words(part: Part, who: Removed) -> str:
    """Return who removed a part, and when: "M. Reed removed this person on 25 November 2026, 09:00."."""
    return f"{who.who or 'The program'} removed this {part.word} on {moment_in_words(who.at)}."
