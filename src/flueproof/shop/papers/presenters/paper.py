"""One issued paper as ready text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.shop.papers.presenters.kinds import FILES, called, item_of, size_text
from flueproof.shop.records.issuing.listing import may_see_file
from flueproof.shop.records.issuing.printing import is_counted, was_printed
from flueproof.shop.records.models import Paper, Person


@dataclass(frozen=True, slots=True)
class FileLine:
    """One file of a paper; counted: each print is kept; again: it was printed before."""

    name: str
    says: str
    size: str
    sha256: str
    counted: bool
    again: bool


def sheet_of(paper: Paper, person: Person) -> dict[str, Any]:
    """Return the context of a paper's page; an owner sees neither stickers nor the shop's own notes."""
    in_house = person.role != "owner"
    files = paper.files.select_related("blob").defer("blob__content")
    lines = [
        FileLine(
            row.name,
            FILES.get(row.name, row.name),
            size_text(row.blob.size),
            row.blob.sha256,
            is_counted(row.name) and in_house,
            is_counted(row.name) and in_house and was_printed(paper, row.name),
        )
        for row in files
        if may_see_file(person, row.name)
    ]
    main = next((line for line in lines if line.name in {"certificate.pdf", "bench-report.pdf"}), None)
    return {
        "paper": paper,
        "called": called(paper),
        "item": item_of(paper.job.analyzer),
        "main": main,
        "lines": lines,
        "replaced_by": Paper.objects.filter(amends=paper).only("number").first(),
        "moments": paper.moments.select_related("by") if in_house else [],
        "in_house": in_house,
    }
