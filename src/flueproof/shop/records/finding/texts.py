"""What of each kind of row can be found, and in which way it is compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.records.finding.comparing import NUMBER, PHONE, PLATE, WORDS, Comparing, Key
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact, Paper, Reference

OWNER, CONTACT, ANALYZER, JOB, PAPER, REFERENCE = "owner", "contact", "analyzer", "job", "paper", "reference"


@dataclass(frozen=True, slots=True)
class Text:
    """One text of a row.

    label: what it is, in words; whole: the text names the row by itself, as a scan of it would.
    """

    label: str
    text: str
    way: Comparing
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of row that can be found.

    own: its texts, which are kept as search keys; ways: how a term may find it; belongs_to: kind of row -> where Django
    finds it, for several words that stand in different rows; fetched: what else is read with the row.
    """

    name: str
    model: Any
    own: Callable[[Any], list[Text]]
    ways: tuple[Comparing, ...]
    belongs_to: dict[str, str]
    fetched: tuple[str, ...] = ()

    def related(self, row: Any) -> list[Text]:
        """Return the texts of the rows that a row belongs to."""
        found: list[Text] = []
        for name, path in self.belongs_to.items():
            other = row
            for step in path.split("__"):
                other = getattr(other, step)
            found += KINDS[name].own(other)
        return found


def _of_owner(owner: Owner) -> list[Text]:
    return [Text("owner", owner.name, WORDS), Text("customer number", owner.number, WORDS)]


def _of_contact(contact: OwnerContact) -> list[Text]:
    return [
        Text("person", contact.name, WORDS),
        Text("phone", contact.phone, PHONE),
        Text("e-mail", contact.email, WORDS),
    ]


def _of_analyzer(analyzer: Analyzer) -> list[Text]:
    return [Text("serial", analyzer.serial, PLATE, whole=True)]


def _of_job(job: Job) -> list[Text]:
    return [Text("job", job.number, NUMBER, whole=True)]


def _of_paper(paper: Paper) -> list[Text]:
    return [Text("certificate", paper.number, NUMBER, whole=True)]


def _of_reference(reference: Reference) -> list[Text]:
    content = reference.content if isinstance(reference.content, dict) else {}
    named = [("number", "number"), ("serial", "serial"), ("lot", "lot"), ("certificate", "its certificate")]
    return [
        Text("scan code", reference.code, PLATE, whole=True),
        Text("what it is", reference.title, WORDS),
        *(Text(label, str(content[key]), PLATE) for key, label in named if content.get(key)),
    ]


KINDS: Final[dict[str, Kind]] = {
    kind.name: kind
    for kind in (
        Kind(JOB, Job, _of_job, (NUMBER,), {OWNER: "owner", ANALYZER: "analyzer"}),
        Kind(ANALYZER, Analyzer, _of_analyzer, (PLATE,), {OWNER: "owner"}),
        Kind(OWNER, Owner, _of_owner, (WORDS,), {}, ("merged_into",)),
        Kind(CONTACT, OwnerContact, _of_contact, (PHONE, WORDS), {OWNER: "owner"}),
        Kind(PAPER, Paper, _of_paper, (NUMBER,), {JOB: "job", OWNER: "job__owner", ANALYZER: "job__analyzer"}),
        Kind(REFERENCE, Reference, _of_reference, (PLATE, WORDS), {}),
    )
}


def kind_of(row: Any) -> Kind | None:
    """Return the kind of a row, or None when rows of its model are not searched."""
    return next((kind for kind in KINDS.values() if isinstance(row, kind.model)), None)


def keys_of(row: Any) -> set[Key]:
    """Return the search keys of a row with their weights; each key once, with its highest weight.

    Raises: KeyError for a row that is not searched.
    """
    kind = kind_of(row)
    if kind is None:
        raise KeyError(type(row).__name__)
    best: dict[str, int] = {}
    for text in kind.own(row):
        for key, weight in text.way.keys(text.text):
            best[key] = max(best.get(key, weight), weight)
    return set(best.items())
