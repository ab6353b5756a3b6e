"""The letter to an owner whose analyzer was found outside: what was found, what we propose, what we need to hear."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Literal

from flueproof.papers.content.checks import LEAKS, action_lines
from flueproof.papers.content.display import display_of, name_of, rounded, to_places
from flueproof.papers.content.outcome import do_not_use, reads_low
from flueproof.papers.content.work_done import item_name
from flueproof.papers.due import date_in_words
from flueproof.papers.printable import printable
from flueproof.papers.typesetting import typeset

if TYPE_CHECKING:
    from flueproof.bench.judgement import Judgement, PointJudgement
    from flueproof.bench.record.record import Record

OPEN_LEAKS = frozenset({"probe", "instrument", "unlocated", "cannot-tell"})


@dataclass(frozen=True, slots=True)
class LetterHead:
    """What the shop adds to a letter.

    to: the owner's name and address, one line an item; phone: of the shop; written_on: day; by: who writes;
    paper: "a4" or "letter"; units: "us" or "si".
    """

    to: tuple[str, ...]
    phone: str
    written_on: date
    by: str
    paper: Literal["a4", "letter"] = "letter"
    units: Literal["us", "si"] = "us"


def letter_content(record: Record, judgement: Judgement, head: LetterHead) -> dict[str, Any]:
    """Return the letter as plain data; the same serves the PDF and a message by mail.

    Source: own wording.
    """
    failed = [p for p in judgement.points if p.phase == "as-found" and p.counts and p.statement == "not-conform"]
    actions = action_lines(judgement.as_found, head.units)
    return {
        "paper": "a4" if head.paper == "a4" else "us-letter",
        "shop": record.shop.name,
        "shop_lines": [*record.shop.address, *([head.phone] if head.phone else [])],
        "to": list(head.to),
        "date": date_in_words(head.written_on),
        "subject": f"{item_name(record)}, serial {record.analyzer.serial}, our job {record.job}",
        "opening": _opening(failed),
        "findings": _findings(failed, judgement, head.units),
        "warning": _warning(judgement, failed),
        "proposal": [one["do"] for one in actions if not one["do"].startswith("Ask the owner")],
        "question": "Please tell us one of the three: go on with this work; return it unadjusted; or call us to talk.",
        "waiting": "Nothing has been adjusted. The analyzer waits for your word, and the promised date with it.",
        "by": printable(head.by, 80),
    }


def letter_text(content: dict[str, Any]) -> str:
    """Return the letter as text, to be pasted into a message.

    Source: own wording.
    """
    parts = [content["subject"], "", content["opening"], *(f"- {line}" for line in content["findings"]), ""]
    if content["warning"]:
        parts += [content["warning"], ""]
    if content["proposal"]:
        parts += ["What we propose:", *(f"- {line}" for line in content["proposal"]), ""]
    parts += [content["question"], content["waiting"], "", content["by"], content["shop"], *content["shop_lines"]]
    return "\n".join(parts)


def call_first_letter_pdf(content: dict[str, Any]) -> bytes:
    """Return the letter as PDF.

    Raises: TypesettingError.
    Source: own wording.
    """
    return typeset("letter.typ", content)


def _opening(failed: list[PointJudgement]) -> str:
    if not failed:
        return "We tested your analyzer as it came in. Before anything is adjusted, we need your word on what we found:"
    return "We tested your analyzer as it came in, and found it outside its limits:"


def _findings(failed: list[PointJudgement], judgement: Judgement, units: str) -> list[str]:
    lines = [_finding(point, units) for point in failed]
    leak = str(judgement.gas_path.get("leak", ""))
    if leak in OPEN_LEAKS:
        lines.append(LEAKS[leak])
    lines += [check.text for check in judgement.checks if check.phase == "as-found" and check.ok is False]
    return lines or ["Nothing outside its limits so far; the order says to call before any work."]


def _finding(point: PointJudgement, units: str) -> str:
    display = display_of(point.unit, units)
    error, expanded = rounded(display.difference(point.error), display.difference(point.U))
    reference = to_places(display.value(point.reference), expanded)
    limit = to_places(display.difference(point.limit), expanded)
    name = name_of(point.channel)
    if not math.isfinite(point.settled):
        return f"{name} gave no reading on {reference} {display.sign}."
    shown = to_places(display.value(point.settled), expanded)
    return (
        f"{name} showed {shown} {display.sign} on {reference} {display.sign}: error {error}, "
        f"limit \u00b1{limit} {display.sign} (U {expanded})."
    )


def _warning(judgement: Judgement, failed: list[PointJudgement]) -> str:
    if do_not_use(judgement) or any(reads_low(point) for point in failed):
        return (
            "It reads carbon monoxide too low or not at all: readings taken since its last good check may have called "
            "dangerous places safe. Please look at those jobs again."
        )
    return ""
