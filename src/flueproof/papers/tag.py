"""The do-not-use tag: tied to an analyzer whose CO was found reading too low or not at all."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from flueproof.papers.content.checks import action_lines
from flueproof.papers.content.display import display_of, rounded, to_places
from flueproof.papers.content.outcome import do_not_use, verdict_of
from flueproof.papers.content.work_done import item_name, work_dates
from flueproof.papers.due import date_in_words
from flueproof.papers.printable import printable
from flueproof.papers.typesetting import typeset, typeset_pictures

if TYPE_CHECKING:
    from flueproof.bench.judgement import Judgement, PointJudgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue


def tag_content(record: Record, judgement: Judgement, issue: Issue) -> dict[str, Any] | None:
    """Return what the tag says as plain data, None where no tag is due.

    Source: own rule.
    """
    low = do_not_use(judgement)
    if not low:
        return None
    dead = any(not math.isfinite(point.error) or point.settled <= 0.05 * point.reference for point in low)
    return {
        "serial": printable(record.analyzer.serial, 40),
        "item": printable(item_name(record), 80),
        "owner": printable(record.owner.name, 100),
        "shop": printable(record.shop.name, 100),
        "job": printable(record.job, 40),
        "what": "CO does not read" if dead else "CO reads too low",
        "points": [_said(point) for point in low[:4]],
        "next": printable(_next(judgement), 80),
        "found": date_in_words(work_dates(record)[1]),
        "date": {"year": issue.issued_on.year, "month": issue.issued_on.month, "day": issue.issued_on.day},
    }


def tag_pdf(record: Record, judgement: Judgement, issue: Issue) -> bytes | None:
    """Return the tie-on tag as PDF, None where no tag is due.

    Raises: TypesettingError.
    Source: own rule.
    """
    content = tag_content(record, judgement, issue)
    return None if content is None else typeset("tag.typ", content)


def tag_picture(record: Record, judgement: Judgement, issue: Issue) -> bytes | None:
    """Return the same tag as a picture (PNG), None where no tag is due.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    content = tag_content(record, judgement, issue)
    return None if content is None else typeset_pictures("tag.typ", content)[0]


def _next(judgement: Judgement) -> str:
    """Return the one next action: the first of the verdict that stands; without one the owner has to be asked."""
    actions = action_lines(verdict_of(judgement))
    return f"{actions[0]['do'][0].lower()}{actions[0]['do'][1:]}." if actions else "ask the owner: mend or retire."


def _said(point: PointJudgement) -> str:
    display = display_of(point.unit, "si")
    expanded = rounded(0.0, point.U)[1]
    reference = to_places(point.reference, "0")
    if not math.isfinite(point.error):
        return f"On {reference} {display.sign} of CO it gave no reading."
    reading, limit = to_places(point.settled, expanded), to_places(point.limit, expanded)
    sign = display.sign
    return f"On {reference} {sign} of CO it read {reading} {sign}; the limit is \u00b1{limit} {sign}."
