"""What a sticker says: serial large, what was done and when, by whom, certificate number, due date where agreed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.bench.record.steps.step import MeasuringStep
from flueproof.papers.certificate_content import due_of
from flueproof.papers.content.outcome import OUTSIDE, paper_kind
from flueproof.papers.content.work_done import work_dates
from flueproof.papers.due import date_short
from flueproof.papers.printable import printable

if TYPE_CHECKING:
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue


@dataclass(frozen=True, slots=True)
class Sticker:
    """The text of one sticker; `warning` stands in bold where the work was limited or the unit is outside limits."""

    shop: str
    serial: str
    done: str
    day: str
    technician: str
    certificate: str
    due: str
    warning: str
    code: str


def sticker_of(record: Record, judgement: Judgement, issue: Issue) -> Sticker | None:
    """Return the sticker of a judged record, None where its outcome has none (no certificate, no sticker).

    A unit outside its limits gets no due date: nothing on its sticker may look like a pass.
    Source: trade habit for stickers; due date only where agreed: ISO/IEC 17025:2017, 7.8.4.3, second-hand.
    """
    kind = paper_kind(record, judgement)
    if not kind.certificate or kind.sticker is None:
        return None
    due = due_of(record) if kind.sticker != OUTSIDE else None
    warning = {OUTSIDE: "OUTSIDE LIMITS, see certificate", "LIMITED": "LIMITED, see certificate"}
    words = {"CALIBRATED": "Calibrated", OUTSIDE: "Tested", "LIMITED": "Tested in part"}
    return Sticker(
        shop=printable(record.shop.name, 60),
        serial=printable(record.analyzer.serial, 32),
        done=words.get(kind.sticker, "Verified"),
        day=date_short(work_dates(record)[1]),
        technician=printable(_technician(record, issue), 40),
        certificate=printable(issue.number, 40),
        due=date_short(due) if due else "",
        warning=warning.get(kind.sticker, ""),
        code=code_text(issue, record.analyzer.serial),
    )


def code_text(issue: Issue, serial: str) -> str:
    """Return the short upper-case text of the code: what the shop puts before it, certificate number, serial.

    Source: ISO/IEC 18004 alphanumeric set makes the smallest code (from memory).
    """
    safe = "".join(sign for sign in printable(f"{issue.number}/{serial}", 80) if sign.isascii()).replace(" ", "")
    return f"{issue.link}{safe}".upper()


def _technician(record: Record, issue: Issue) -> str:
    measuring = [step.by for step in record.standing_steps() if isinstance(step, MeasuringStep)]
    return measuring[-1] if measuring else issue.signer
