"""A judgement for a person at the terminal: outcome, what to do, every point, the path, what was not tested."""

from __future__ import annotations

import textwrap
from typing import Final

import click

from flueproof.analyzer.profile import Profile
from flueproof.bench.judgement import Judgement, PointJudgement, Verdict
from flueproof.bench.record.record import Record
from flueproof.cli.words.console import plain_text, shown_name
from flueproof.cli.words.table import Table
from flueproof.papers.content.checks import action_lines, check_rows
from flueproof.papers.content.display import display_of, name_of, plain_number, rounded, to_places

PHASES: Final = (("as-found", "As found"), ("as-left", "As left"))
STATEMENTS: Final = {"conform": "conform", "not-conform": "NOT CONFORM", "undecided": "too close to call"}
_COLORS: Final = {"conform": "green", "not-conform": "red", "undecided": "yellow"}
_OUTCOME_COLORS: Final = {"ready-to-sign": "green", "limited": "green", "incomplete": "yellow"}


def standing_verdict(judgement: Judgement) -> Verdict | None:
    """Return the verdict that stands: as left where there is one, otherwise as found."""
    return judgement.as_left if judgement.as_left is not None else judgement.as_found


def one_line(judgement: Judgement) -> str:
    """Return record, outcome and first action on one line, for a list of records."""
    verdict = standing_verdict(judgement)
    if verdict is None:
        return f"{shown_name(judgement.record)}: nothing measured"
    first = f"; {verdict.actions[0].do}{_where(verdict)}" if verdict.actions else ""
    more = f" and {len(verdict.actions) - 1} more" if len(verdict.actions) > 1 else ""
    return f"{shown_name(judgement.record)}: {verdict.outcome}{first}{more}"


def _where(verdict: Verdict) -> str:
    first = verdict.actions[0]
    return "".join(f" {part}" for part in (first.channel, first.where) if part)


def full_summary(
    record: Record, profile: Profile, judgement: Judgement, *, units: str, width: int, all_signs: bool
) -> str:
    """Return the whole judgement in words.

    units: "us" or "si"; width [characters]; all_signs: whether the output carries Unicode.
    """
    unit = record.analyzer
    blocks = [
        f"{shown_name(judgement.record)}: {unit.make} {unit.model}, serial {unit.serial}, job {judgement.job}",
        f"Profile {profile.name} {profile.version}; decision rule {judgement.decision_rule['name']}"
        + (f" with r = {judgement.decision_rule['r']:g}" if judgement.decision_rule.get("r") is not None else ""),
        *_other_rule(record, judgement),
    ]
    for phase, title in PHASES:
        verdict = judgement.as_found if phase == "as-found" else judgement.as_left
        if verdict is not None:
            blocks += ["", *_phase(phase, title, verdict, profile, judgement, units, width, all_signs=all_signs)]
    blocks += _beside(judgement, width)
    text = "\n".join(blocks)
    return text if all_signs else plain_text(text)


def _other_rule(record: Record, judgement: Judgement) -> list[str]:
    """Return the line that says that another rule was given than the order names."""
    given, ordered = judgement.decision_rule, record.order
    if (given["name"], given.get("r")) == (ordered.decision_rule, ordered.r):
        return []
    here, there = _rule(given["name"], given.get("r")), _rule(ordered.decision_rule, ordered.r)
    return [f"Decision rule {here} given here; the order names {there}."]


def _rule(name: str, r: float | None) -> str:
    return name if r is None else f"{name} with r = {r:g}"


def _phase(
    phase: str,
    title: str,
    verdict: Verdict,
    profile: Profile,
    judgement: Judgement,
    units: str,
    width: int,
    *,
    all_signs: bool,
) -> list[str]:
    outcome = click.style(verdict.outcome, fg=_OUTCOME_COLORS.get(verdict.outcome, "red"), bold=True)
    lines = [f"{title}: {outcome}"]
    for number, action in enumerate(action_lines(verdict), start=1):
        lines += _wrapped(f"{number}. {action['do']}. {action['why']}", width, "  ", "     ")
    points = [point for point in judgement.points if point.phase == phase]
    if points:
        lines += ["", *_points(points, profile, units, all_signs=all_signs)]
    return lines


def _points(points: list[PointJudgement], profile: Profile, units: str, *, all_signs: bool) -> list[str]:
    table = Table(("test point", "reference", "error", "U", "limit", "unit", "statement"), right=(1, 2, 3, 4))
    for point in points:
        shown = display_of(point.unit, units)
        error, expanded = rounded(shown.difference(point.error), shown.difference(point.U))
        said = click.style(STATEMENTS[point.statement], fg=_COLORS[point.statement])
        cells = (
            _named(point, profile),
            plain_number(shown.value(point.reference)),
            error,
            expanded,
            to_places(shown.difference(point.limit), error if "." in error else "1.0"),
            shown.sign,
            f"{said}{'' if point.counts else ' (does not count)'}",
        )
        table.add(cells if all_signs else tuple(plain_text(cell) for cell in cells))
    return ["  " + line for line in table.lines()]


def _named(point: PointJudgement, profile: Profile) -> str:
    channel = profile.channels.get(point.channel)
    name = name_of(point.channel, channel.title if channel else None)
    place = f"at the {point.feed}" if point.feed else f"({point.of})" if point.of else ""
    repeats = f", {point.repeats} times" if point.repeats > 1 else ""
    return f"{name} {place}".strip() + repeats


def _beside(judgement: Judgement, width: int) -> list[str]:
    lines: list[str] = []
    checks = check_rows(judgement)
    if checks:
        lines += ["", "Gas path and checks"]
        for row in checks:
            phase = f" ({row['phase']})" if row["phase"] else ""
            lines += _wrapped(f"{row['what']}{phase}: {row['result']}. {row['text']}", width, "  ", "    ")
    if judgement.not_tested:
        lines += ["", *_wrapped(f"Not tested: {'; '.join(judgement.not_tested)}.", width, "", "  ")]
    for shown in judgement.displayed:
        lines += ["", f"Figures of the display ({shown.phase})"]
        for text in shown.text:
            lines += _wrapped(text, width, "  ", "    ")
    if judgement.notes:
        lines += ["", "Notes"]
        for note in judgement.notes:
            stops = " This stops the signing." if note.blocks else ""
            step = f" [{note.step}]" if note.step else ""
            lines += _wrapped(f"- {note.text}{step}{stops}", width, "  ", "    ")
    return lines


def _wrapped(text: str, width: int, first: str, rest: str) -> list[str]:
    return textwrap.wrap(
        " ".join(text.split()), width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
    ) or [first]
