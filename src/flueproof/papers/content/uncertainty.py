"""The uncertainty budget of each quantity in one line, the limits with their source, the decision rule in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from flueproof.metrology.conformity import decision_rule, rule_in_words
from flueproof.papers.content.display import DASH, MINUS, display_of, plain_number, rounded, to_places
from flueproof.papers.content.results import PLACES, channel_title

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement, PointJudgement

_SHORT = {"reference certificate": "certificate", "spread of the source": "source spread"}
MANY_DOF = 10_000  # from here on the t factor is the normal one to all printed digits
_SMALL_SHARE = 0.01  # of the variance; smaller contributions are left out of the summary, and its head says so


def budget_rows(
    points: Sequence[PointJudgement], profile: Profile, units: str, letters: Mapping[str, str]
) -> list[dict[str, str]]:
    """Return one row per quantity: the point where U eats most of the limit, with its contributions.

    Source: JCGM 100:2008, 7.2.7 (what a report should hold).
    """
    rows = []
    for channel in dict.fromkeys(point.channel for point in points):
        mine = [point for point in points if point.channel == channel and math.isfinite(point.U)]
        if mine:
            worst = max(mine, key=lambda point: point.U / point.limit if point.limit > 0 else 0.0)
            rows.append(_budget_row(worst, channel_title(channel, profile), units, letters))
    return rows


def _budget_row(point: PointJudgement, title: str, units: str, letters: Mapping[str, str]) -> dict[str, str]:
    display = display_of(point.unit, units)
    expanded = rounded(0.0, display.difference(point.U))[1]
    like = expanded if "." in expanded else expanded + ".0"
    lines = sorted((line for line in point.budget if line.u > 0), key=lambda line: -line.u)
    least = _SMALL_SHARE * point.u**2
    said = [
        f"{_SHORT.get(line.name, line.name)} {_short(display.difference(line.u), like)}"
        for line in lines
        if line.u**2 >= least
    ]
    reference = to_places(display.value(point.reference), expanded)
    place = [letters.get(point.reference_id or "", ""), PLACES.get(point.feed or "", "")]
    return {
        "point": ", ".join([f"{title} {reference} {display.sign}", *(part for part in place if part)]),
        "parts": "; ".join(said),
        "u": _short(display.difference(point.u), like),
        "dof": "\u221e" if point.dof is None or not point.dof < MANY_DOF else f"{point.dof:.0f}",
        "k": f"{point.k:.2f}",
        "U": f"{expanded} {display.sign}",
    }


def _short(value: float, like: str) -> str:
    """Return a contribution with one digit more than U has."""
    decimals = len(like.partition(".")[2]) + 1
    shown = f"{value:.{decimals}f}"
    return shown if float(shown) != 0.0 else f"{value:.1g}"


def limit_rows(
    points: Sequence[PointJudgement], profile: Profile, units: str, owner_limits: frozenset[str]
) -> list[dict[str, Any]]:
    """Return the limits of each quantity in words, with their source; `owner_limits` names the owner's own.

    Source: ISO/IEC 17025:2017, 7.8.6.2 (which specification), second-hand.
    """
    rows: dict[tuple[str, str, str], dict[str, Any]] = {}
    for point in points:
        words = _limit_words(point, profile, units)
        key = (point.channel, words, point.limit_source)
        phase = "as found" if point.phase == "as-found" else "as left"
        row = rows.setdefault(
            key,
            {
                "quantity": channel_title(point.channel, profile),
                "limit": words,
                "phases": [],
                "source": point.limit_source,
                "owner": point.channel in owner_limits,
            },
        )
        if phase not in row["phases"]:
            row["phases"].append(phase)
    order = list(dict.fromkeys(point.channel for point in points))
    ready = sorted(rows.items(), key=lambda item: order.index(item[0][0]))
    return [row | {"phases": " and ".join(row["phases"])} for _, row in ready]


def _limit_words(point: PointJudgement, profile: Profile, units: str) -> str:
    display = display_of(point.unit, units)
    channel = profile.channels.get(point.channel)
    lines = [line for line in (channel.limits if channel else ()) if line.source == point.limit_source]
    fitting = [line for line in lines if line.holds_for(point.reference, point.phase)]
    if not fitting:
        value = plain_number(display.difference(point.limit), 3)
        return f"\u00b1{value} {display.sign} at {plain_number(display.value(point.reference))} {display.sign}"
    line = fitting[0]
    parts = []
    if line.absolute is not None:
        parts.append(f"\u00b1{plain_number(display.difference(line.absolute), 3)} {display.sign}")
    if line.percent is not None:
        parts.append(f"\u00b1{plain_number(line.percent, 3)} % of {line.of or 'reference'}".replace("-", " "))
    if len(parts) < 2:
        return parts[0] if parts else DASH
    return f"{parts[0]} plus {parts[1]}" if line.combine == "sum" else f"the larger of {parts[0]} and {parts[1]}"


def rule_words(judgement: Judgement) -> str:
    """Return the decision rule in words.

    Source: ISO/IEC 17025:2017, 7.8.6.2; ILAC-G8:09/2019, second-hand.
    """
    rule = judgement.decision_rule
    said = rule.get("words") or rule.get("text") or rule_in_words(decision_rule(str(rule["name"]), rule.get("r")))
    return str(said).replace(" - ", f" {MINUS} ")
