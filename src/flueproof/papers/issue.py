"""What the signer adds to a judgement: number, day of issue, name, and how the paper is to look."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from flueproof.papers.errors import IssueError

PAPERS: Final[tuple[str, ...]] = ("a4", "letter")
UNITS: Final[tuple[str, ...]] = ("us", "si")
_LONGEST_NUMBER: Final = 40


@dataclass(frozen=True, slots=True)
class Issue:
    """One issue of a paper.

    number: the certificate's own number; issued_on: day of issue; signer: who puts their name to it;
    accredited_claim: the shop's accreditation sentence, None where it has none; paper: "a4" or "letter";
    units: "us" (degF, inH2O) or "si" (degC, Pa); link: what stands before the number in the sticker's code, such as
    an address of the shop's own; label: the sticker's size, a name in data/label_sizes.toml.
    amends: number of the paper whose place this one takes, empty where it takes none; amended_why: the reason;
    changed: what is different, a sentence each (ISO/IEC 17025:2017, 7.8.8, second-hand).
    Raises: IssueError.
    """

    number: str
    issued_on: date
    signer: str
    accredited_claim: str | None = None
    paper: Literal["a4", "letter"] = "letter"
    units: Literal["us", "si"] = "us"
    link: str = ""
    label: str = "50x30"
    amends: str = ""
    amended_why: str = ""
    changed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what no certificate may carry."""
        if not self.number.strip() or len(self.number) > _LONGEST_NUMBER or not self.number.isprintable():
            raise IssueError(
                f"certificate number {self.number!r}: give 1 to {_LONGEST_NUMBER} printable characters, "
                "such as FP-2026-0042"
            )
        if not self.signer.strip():
            raise IssueError("the signer's name is empty; give the name of the person who signs")
        if self.paper not in PAPERS:
            raise IssueError(f"paper size {self.paper!r} is not known; give one of {', '.join(PAPERS)}")
        if self.units not in UNITS:
            raise IssueError(f"units {self.units!r} are not known; give one of {', '.join(UNITS)}")
        if bool(self.amends.strip()) != bool(self.amended_why.strip()):
            raise IssueError("an amended paper names the paper it amends and says why; give both, or neither")
        if self.amends and self.amends == self.number:
            raise IssueError(f"{self.number} cannot amend itself; an amended paper has a number of its own")
