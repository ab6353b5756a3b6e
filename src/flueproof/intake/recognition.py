"""Whose a box may be: candidates with probabilities and the reasons, ready for a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flueproof.intake.clues import Clues
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile

WRONG_OWNER_COSTS = 2.0
"""Taking a wrong owner costs more than a look at the next line: our own assumption, no source."""
_WORTH_SAYING = 0.05
_STRENGTHS = ((3.0, "strongly for"), (1.0, "for"), (0.2, "slightly for"), (-0.2, "neither"), (-1.0, "slightly against"))


@dataclass(frozen=True, slots=True)
class Reason:
    """What one clue says; weight: natural logarithm of the likelihood ratio against a stranger."""

    clue: str
    words: str
    weight: float

    @property
    def strength(self) -> str:
        """Return the weight in words."""
        for least, words in _STRENGTHS:
            if self.weight >= least:
                return words
        return "against" if self.weight >= -3.0 else "strongly against"


@dataclass(frozen=True, slots=True)
class Candidate:
    """An owner with one analyzer.

    analyzer: None for one not on file; kind: known, new, requested (in an open request, not on file yet) or sold-on
    (on file as another owner's); reasons: the strongest first.
    """

    owner: OwnerOnFile
    analyzer: AnalyzerOnFile | None
    request: OpenRequest | None
    kind: str
    probability: float
    reasons: tuple[Reason, ...]

    @property
    def in_percent(self) -> str:
        """Return the probability for reading; nothing is ever certain."""
        return in_percent(self.probability)


@dataclass(frozen=True, slots=True)
class OwnerShare:
    """An owner with the probability over all analyzers; best: the likeliest of its candidates."""

    owner: OwnerOnFile
    probability: float
    best: Candidate

    @property
    def in_percent(self) -> str:
        """Return the probability for reading."""
        return in_percent(self.probability)


@dataclass(frozen=True, slots=True)
class Recognition:
    """The answer.

    candidates: rows, the likeliest first; owners: the same by owner; stranger: probability that the sender is not on
    file; other: that it is an owner on file to whom nothing typed points.
    """

    clues: Clues
    candidates: tuple[Candidate, ...]
    owners: tuple[OwnerShare, ...]
    stranger: float
    other: float

    @property
    def best(self) -> Candidate | None:
        """Return the likeliest row, or None when nothing is on file."""
        return self.candidates[0] if self.candidates else None

    @property
    def is_stranger(self) -> bool:
        """Return True when "none on file" stands first: as likely as the likeliest owner, or at least half so."""
        return not self.owners or WRONG_OWNER_COSTS * self.stranger > self.owners[0].probability

    @property
    def in_one_sentence(self) -> str:
        """Return the answer for the top of a page."""
        if self.is_stranger:
            word = "Very likely" if self.stranger >= 0.95 else "Likely" if self.stranger >= 0.7 else "Perhaps"
            next_best = self.owners[0] if self.owners and self.owners[0].probability >= _WORTH_SAYING else None
            if next_best and next_best.probability > self.stranger:
                either = (
                    f"{next_best.owner.name} ({next_best.in_percent}) or none on file ({in_percent(self.stranger)})"
                )
                return f"Not clear: {either}. Look for one more clue before you take it."
            rest = f"; of those on file, {next_best.owner.name} ({next_best.in_percent})" if next_best else ""
            return f"{word} none on file ({in_percent(self.stranger)}){rest}."
        first = self.owners[0]
        word = "Very likely" if first.probability >= 0.95 else "Likely" if first.probability >= 0.7 else "Perhaps"
        return f"{word} {first.owner.name} ({first.in_percent}); none on file: {in_percent(self.stranger)}."

    def as_mapping(self) -> dict[str, Any]:
        """Return the answer as plain values, for keeping with what a person took."""
        return {
            "stranger": round(self.stranger, 6),
            "other": round(self.other, 6),
            "candidates": [
                {
                    "owner": row.owner.key,
                    "analyzer": row.analyzer.key if row.analyzer else None,
                    "kind": row.kind,
                    "probability": round(row.probability, 6),
                    "reasons": [[reason.clue, reason.words, round(reason.weight, 3)] for reason in row.reasons],
                }
                for row in self.candidates
            ],
        }


def in_percent(probability: float) -> str:
    """Return a probability in whole percent, never as certain or impossible."""
    if probability < 0.01:
        return "< 1 %"
    return "> 99 %" if probability > 0.99 else f"{round(100 * probability)} %"
