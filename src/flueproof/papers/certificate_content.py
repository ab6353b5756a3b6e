"""Everything that stands on a certificate or bench report, as plain data with ready text."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content import statements
from flueproof.papers.content.checks import action_lines, check_rows
from flueproof.papers.content.display import name_of
from flueproof.papers.content.outcome import OUTSIDE, PaperKind, do_not_use, paper_kind, verdict_of
from flueproof.papers.content.references import letters_of, names_of, reference_rows, room_lines, stated_only
from flueproof.papers.content.results import result_pictures, results_content
from flueproof.papers.content.summary import found_in_words, joint_words
from flueproof.papers.content.uncertainty import budget_rows, limit_rows, rule_words
from flueproof.papers.content.untested import not_tested_lines
from flueproof.papers.content.wording import day_on_paper, on_paper
from flueproof.papers.content.work_done import done_in_words, item_name, replaced_cells, work_dates, work_lines
from flueproof.papers.due import date_in_words, due_date
from flueproof.papers.printable import printable
from flueproof.pictures.key import key_picture

if TYPE_CHECKING:
    from datetime import date

    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue
    from flueproof.pictures.picture import Picture

_DAGGER: Final = "\u2020"
_PAPER_NAMES: Final = {"a4": "a4", "letter": "us-letter"}
_LONG_NAME: Final = 120
_LONG_CONDITION: Final = 160
_LONG_NOTE: Final = 1200


def certificate_content(record: Record, profile: Profile, judgement: Judgement, issue: Issue) -> dict[str, Any]:
    """Return what the certificate (or, where none is due, the bench report) says, as plain data for the template.

    Quantities in the issue's units; every text is a string, every number is rounded text.
    Source: ISO/IEC 17025:2017, 7.8.2 and 7.8.4, second-hand.
    """
    kind = paper_kind(record, judgement, profile)
    letters, named = letters_of(record), names_of(record)
    points, units = judgement.points, issue.units
    drawn = result_pictures([p for p in points if p.counts] or points, profile, units)
    return {
        "paper": _PAPER_NAMES[issue.paper],
        "certificate": kind.certificate,
        "title": printable(on_paper(kind.title), 160),
        "headline": kind.headline + (statements.READS_LOW if do_not_use(judgement) else ""),
        "amended": _amended(issue),
        "found": found_in_words(judgement, profile, units, named),
        "running": _running(record, kind, issue),
        "number": issue.number if kind.certificate else "",
        "date": {"year": issue.issued_on.year, "month": issue.issued_on.month, "day": issue.issued_on.day},
        "shop": _shop(record, kind, issue),
        "facts": _facts(record, profile, kind, issue),
        "results": results_content(points, profile, units, letters),
        "pictures": _halves(drawn),
        "key": _drawing(key_picture()),
        "budget": budget_rows(points, profile, units, letters),
        "rule": rule_words(judgement),
        "limits": limit_rows(points, profile, units, _owner_limits(record)),
        "references": reference_rows(record),
        "room": room_lines(record, units),
        "checks": check_rows(judgement, units, named),
        "work": work_lines(record),
        "actions": [] if kind.certificate else action_lines(verdict_of(judgement), units, named),
        "not_tested": not_tested_lines(judgement.not_tested, profile),
        "notes": _notes(record, judgement, kind, issue),
        "words": _words(record, judgement, kind),
        "signer": issue.signer,
        "signed": f"{date_in_words(issue.issued_on)}",
        "end": f"End of {'certificate ' + issue.number if kind.certificate else 'bench report, job ' + record.job}",
    }


def due_of(record: Record) -> date | None:
    """Return the due date, only where the order asks for one: counted from the last day of the work.

    Source: ISO/IEC 17025:2017, 7.8.4.3, second-hand (no recommendation of an interval unless agreed).
    """
    due = record.order.due
    return due_date(work_dates(record)[1], due.months, due.rule) if due.wanted else None


def _amended(issue: Issue) -> dict[str, Any] | None:
    """Return what an amended paper says of the one whose place it takes, None for one that amends nothing.

    Source: ISO/IEC 17025:2017, 7.8.8, second-hand.
    """
    if not issue.amends:
        return None
    changed = [_sentence(text) for text in issue.changed]
    return {
        "head": f"This paper amends {printable(issue.amends, 40)} and takes its place.",
        "why": f"Why: {_sentence(issue.amended_why)}",
        "changed": "What is different: " + " ".join(changed) if changed else statements.NOTHING_ELSE_CHANGED,
        "old": statements.OLD_PAPER,
    }


def _running(record: Record, kind: PaperKind, issue: Issue) -> str:
    name = (
        f"Certificate {issue.number}" if kind.certificate else f"Bench report, job {record.job} \u2013 no certificate"
    )
    return f"{name}  \u00b7  serial {printable(record.analyzer.serial, 40)}"


def _shop(record: Record, kind: PaperKind, issue: Issue) -> dict[str, Any]:
    claim = issue.accredited_claim if kind.certificate and record.order.accredited else None
    address = [printable(line, _LONG_NAME) for line in record.shop.address[:6]]
    return {"name": printable(record.shop.name, _LONG_NAME), "address": address, "claim": claim or ""}


def _facts(record: Record, profile: Profile, kind: PaperKind, issue: Issue) -> list[dict[str, Any]]:
    analyzer, received = record.analyzer, record.received
    due = due_of(record) if kind.certificate and kind.sticker != OUTSIDE else None
    serial = f"Serial {analyzer.serial}" + (f", firmware {analyzer.firmware}" if analyzer.firmware else "")
    item = [item_name(record), serial]
    facts = [
        ("Owner" + _DAGGER, [record.owner.name, ", ".join(record.owner.address[:6])]),
        ("Item", item),
        ("Cells", _cells(record)),
        ("Condition", [_condition(received.condition)]),
        ("Enclosed", [", ".join(received.enclosed) or "Nothing but the analyzer"]),
        ("Job", [record.job]),
        ("Received", [date_in_words(received.date)]),
        ("Work done", [done_in_words(record)]),
        ("Issued", [date_in_words(issue.issued_on)]),
        ("Method", [record.shop.method or "Not stated", f"Profile {profile.name}, version {profile.version}"]),
        ("Due" + _DAGGER, [f"{date_in_words(due)}, as the owner asked"] if due else []),
    ]
    return [
        {"name": name, "lines": [printable(line, 800) for line in lines if line]} for name, lines in facts if any(lines)
    ]


def _condition(said: str | None) -> str:
    if not said:
        return "Nothing noted"
    return said if len(said) <= _LONG_CONDITION else "In full under Notes: " + printable(said, _LONG_CONDITION)


def _cells(record: Record) -> list[str]:
    lines, replaced = [], replaced_cells(record)
    for cell in record.analyzer.cells:
        parts = [name_of(cell.gas)]
        if cell.serial:
            parts.append(f"serial {cell.serial}")
        if cell.made_day is not None:
            parts.append(f"made {day_on_paper(str(cell.made))}")
        if cell.fitted_day is not None:
            parts.append(f"fitted {day_on_paper(str(cell.fitted))}")
        lines.append(", ".join(parts) + ("; as received, replaced in this work" if cell.gas in replaced else ""))
    return lines


def _owner_limits(record: Record) -> frozenset[str]:
    return frozenset() if isinstance(record.order.limits, str) else frozenset(record.order.limits)


def _halves(drawn: list[Picture]) -> list[list[dict[str, Any]]]:
    """Share the pictures between two columns of about the same height, in order."""
    columns: list[list[dict[str, Any]]] = [[], []]
    heights = [0.0, 0.0]
    for picture in drawn:
        shorter = 0 if heights[0] <= heights[1] else 1
        columns[shorter].append(_drawing(picture))
        heights[shorter] += picture.height_pt + 8.0
    return columns


def _drawing(picture: Picture) -> dict[str, Any]:
    spoken = "; ".join(": ".join((row[0], ", ".join(row[1:]))) for row in picture.rows)
    return {
        "svg": picture.svg,
        "alt": printable(f"{picture.title}. {picture.caption} {spoken}"),
        "title": picture.title,
        "caption": _beside_title(picture),
        "width": round(picture.width_pt, 2),
    }


def _beside_title(picture: Picture) -> str:
    """Return a picture's caption as it stands beside its title: the quantity is said there already."""
    said = picture.caption.removeprefix(picture.title.partition(": error")[0] + ": ")
    return said.replace("the point lies inside", "inside").replace("points lie inside", "inside")


def _notes(record: Record, judgement: Judgement, kind: PaperKind, issue: Issue) -> list[str]:
    named = names_of(record)
    notes = [_sentence(on_paper(note.text, issue.units, named)) for note in judgement.notes]
    condition = record.received.condition
    if condition and len(condition) > _LONG_CONDITION:
        notes += wrap(f"Condition on arrival: {printable(condition)}", _LONG_NOTE)
    if kind.certificate and record.order.accredited and not issue.accredited_claim:
        notes.append(statements.NOT_ACCREDITED)
    return list(dict.fromkeys(notes))


def _sentence(text: str) -> str:
    stripped = printable(text)
    return stripped if stripped.endswith((".", "!", "?", "…")) else stripped + "."


def _words(record: Record, judgement: Judgement, kind: PaperKind) -> dict[str, Any]:
    close = any(point.statement == "undecided" for point in judgement.points)
    return {
        "only": statements.ONLY_THIS_ITEM,
        "uncertainty": statements.UNCERTAINTY,
        "traceability": statements.TRACEABILITY + (statements.STATED_ONLY if stated_only(record) else ""),
        "unrounded": statements.UNROUNDED,
        "joint": " ".join(joint_words(judgement)) if kind.certificate else "",
        "owner": statements.OWNER_MARK,
        "close": statements.TOO_CLOSE if close else "",
        "cautions": list(statements.CAUTIONS),
        "warning": statements.REPORT_WARNING,
    }
