"""What was found: a picture a quantity, the gas path in words, the verdict with its actions in order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.analyzer.profile import Profile
from flueproof.bench.judgement import Judgement, Note, Verdict
from flueproof.papers.content.checks import action_lines, check_rows
from flueproof.papers.content.results import result_pictures
from flueproof.papers.content.wording import on_paper
from flueproof.pictures.picture import Picture
from flueproof.shop.bench.presenters.displayed import DisplayedView, displayed_views
from flueproof.shop.bench.presenters.units import paper_units, unit_for
from flueproof.shop.records.models import Person

OUTCOMES: Final = {
    "ready-to-sign": "Ready to sign.",
    "outside-as-ordered": "Outside the limits; goes back unadjusted, as ordered.",
    "limited": "Conforms where it was tested; a part was not tested.",
    "work-needed": "Work is needed.",
    "not-worth-repair": "Not worth the repair; the owner decides.",
    "beyond-our-access": "Beyond what this shop can reach: send on.",
    "incomplete": "Not complete yet.",
}
SAID_BELOW: Final = "display-does-not-fit"  # the finding on the display says it, with what follows
RESULT_STATEMENTS: Final = {"passed": "conform", "failed": "not-conform", "open": "undecided", "in part": "undecided"}


@dataclass(frozen=True, slots=True)
class PictureView:
    """A picture with its drawing marked safe: it is our own SVG, every text in it escaped where it was written."""

    svg: SafeString
    title: str
    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class CheckView:
    """A check that is no test point, with its statement."""

    what: str
    phase: str
    text: str
    statement: str


@dataclass(frozen=True, slots=True)
class VerdictView:
    """A verdict: outcome in words, what to do in order, why."""

    heading: str
    outcome: str
    words: str
    actions: tuple[Mapping[str, str], ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Results:
    """All that was found so far."""

    pictures: tuple[PictureView, ...] = ()
    gas_path: tuple[CheckView, ...] = ()
    checks: tuple[CheckView, ...] = ()
    verdicts: tuple[VerdictView, ...] = ()
    notes: tuple[tuple[str, bool], ...] = ()
    displayed: tuple[DisplayedView, ...] = ()


def results_of(judgement: Judgement | None, profile: Profile, person: Person) -> Results:
    """Return what was found, ready for the page; empty before the first measurement."""
    if judgement is None:
        return Results()
    units = paper_units(person)
    checks = [_check(row) for row in check_rows(judgement, units)]
    return Results(
        tuple(picture_views(judgement, profile, person)),
        tuple(check for check in checks if check.what == "Gas path"),
        tuple(check for check in checks if check.what != "Gas path"),
        tuple(_verdicts(judgement, units)),
        tuple(
            (_of_step(note, on_paper(note.text, units)), note.blocks)
            for note in judgement.notes
            if note.code != SAID_BELOW
        ),
        displayed_views(judgement, units),
    )


def _of_step(note: Note, text: str) -> str:
    """Return a note's text with the step it belongs to."""
    return f"Step {note.step}: {text}" if note.step else text


def picture_views(judgement: Judgement, profile: Profile, person: Person) -> list[PictureView]:
    """Return one picture a quantity, in the person's units."""
    made: list[Picture] = []
    for channel in dict.fromkeys(point.channel for point in judgement.points):
        mine = [point for point in judgement.points if point.channel == channel]
        made += result_pictures(mine, profile, unit_for(person, mine[0].unit))
    return [
        PictureView(mark_safe(one.svg), one.title, one.caption, one.header, one.rows)  # noqa: S308 -- see PictureView
        for one in made
    ]


def _check(row: Mapping[str, str]) -> CheckView:
    return CheckView(row["what"], row["phase"], row["text"], RESULT_STATEMENTS.get(row["result"], ""))


def _verdicts(judgement: Judgement, units: str) -> list[VerdictView]:
    views = []
    for heading, verdict in (("As found", judgement.as_found), ("As left", judgement.as_left)):
        if verdict is not None:
            views.append(_verdict(heading, verdict, units))
    return views


def _verdict(heading: str, verdict: Verdict, units: str) -> VerdictView:
    return VerdictView(
        heading,
        verdict.outcome,
        OUTCOMES[verdict.outcome],
        tuple(action_lines(verdict, units)),
        tuple(on_paper(text, units) for text in verdict.reasons),
    )
