"""The page of one duty: facts with their picture, what to say, what was done."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from flueproof.impact.duties.notice import Notice
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.duties.forms.telling import ActForm, MailForm, WhyForm
from flueproof.shop.duties.presenters.duty_list import line_of
from flueproof.shop.duties.presenters.picture import picture_of
from flueproof.shop.duties.presenters.state import KIND_WORDS
from flueproof.shop.frame.presenters.pages import address_of
from flueproof.shop.records.duties.notices import notice_for, postal_lines, suggested
from flueproof.shop.records.duties.telling import DutyError
from flueproof.shop.records.models import Duty, Person
from flueproof.shop.records.people.rights import may

ASK: Final = (
    "Ask: where was it used since then, who sleeps in those houses, who else of the firm uses it.",
    "Ask for the list of readings, if they keep one: the impact page works it through.",
    "If a CO alarm sounds or somebody feels ill: out, and call for help.",
)


def duty_context(row: Duty, person: Person, now: dt.datetime, sent: dict[str, Any]) -> dict[str, Any]:
    """Return the context of a duty's page. sent: forms that were refused, by name."""
    line = line_of(row, now)
    try:
        notice, trouble = notice_for(row, person, now), ""
    except DutyError as error:
        notice, trouble = None, str(error)
    return {
        "duty": row,
        "line": line,
        "kind": KIND_WORDS[row.kind],
        "picture": picture_of(row.facts),
        "further": row.facts.get("further", ()),
        "script": script(notice) if notice is not None else [],
        "trouble": trouble,
        "acts": row.acts.select_related("by", "letter").order_by("id"),
        "forms": _forms(row, person, now, may_write=notice is not None) | sent,
        "sent": next(iter(sent), ""),
        "papers": row.visit.papers.defer("record", "judgement").order_by("-id"),
        "impact": address_of("impact:analyzer", row.analyzer_id),
        "postal": postal_lines(row),
        "rule": ONE_RULE,
        "may_tell": may(person, "tell-owners"),
    }


def script(notice: Notice) -> list[str]:
    """Return what to say on the phone, one thought a line."""
    return [
        notice.opening,
        *notice.findings,
        *([notice.warning] if notice.warning else []),
        " ".join((*notice.meaning, notice.time)),
        notice.rule,
        *ASK,
    ]


def _forms(row: Duty, person: Person, now: dt.datetime, *, may_write: bool) -> dict[str, Any]:
    made: dict[str, Any] = {"tell": ActForm(auto_id="tell_%s")}
    if may_write:
        words = suggested(row, person, now)
        start = {"subject": words.subject[:200], "words": words.text}
        made["mail"] = MailForm(auto_id="mail_%s", duty=row, initial=start)
    made["need"] = WhyForm(auto_id="need_%s")
    made["again"] = WhyForm(auto_id="again_%s")
    return made
