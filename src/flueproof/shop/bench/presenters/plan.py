"""The plan of test points as rows: point, what it asks, how it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from flueproof.analyzer.profile import Point, Profile
from flueproof.papers.content.display import display_of, plain_number
from flueproof.papers.content.untested import untested_name
from flueproof.papers.content.wording import on_paper
from flueproof.shop.bench.presenters.query import query_of
from flueproof.shop.bench.presenters.units import unit_for
from flueproof.shop.records.models import Person
from flueproof.shop.records.visits.plan import PlanLine

PHASE_WORDS: Final = {"as-found": "As found", "as-left": "As left"}
STATE_WORDS: Final = {
    "open": "not yet",
    "unfit": "measured, does not count",
    "no-part": "part did not come",
    "skipped": "left out",
    "as-found-stands": "stands as found",
}
_FEEDS: Final = {"tip": "at the tip", "instrument": "at the inlet", "handle": "at the handle", "hose": "at the hose"}
FORM_OF_POINT: Final = {
    "test-gas": "gas",
    "cross": "gas",
    "temperature": "temperature",
    "pressure": "pressure",
    "flow": "flow",
    "plug-test": "plug-test",
}


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One row: statement is one of the three or "", word the state otherwise; skippable: may be left out now."""

    point: str
    title: str
    asks: str
    needed: bool
    statement: str
    word: str
    why: str
    steps: str
    form: str
    query: str
    skippable: bool
    now: bool


@dataclass(frozen=True, slots=True)
class PlanPart:
    """The rows of one phase; open_needed: how many needed points are not done; closed: its time is over."""

    phase: str
    heading: str
    rows: tuple[PlanRow, ...]
    open_needed: int
    closed: bool


def plan_parts(
    lines: Sequence[PlanLine], profile: Profile, person: Person, phase_now: str, decides: Sequence[str]
) -> list[PlanPart]:
    """Return the plan by phase; decides: titles of the points that the next test speaks to."""
    parts = []
    for phase in dict.fromkeys(line.phase for line in lines):
        mine = [line for line in lines if line.phase == phase]
        rows = tuple(_row(line, profile, person, phase_now, decides) for line in mine)
        waiting = sum(row.needed and row.skippable for row in rows) if phase == phase_now else 0
        parts.append(PlanPart(phase, PHASE_WORDS[phase], rows, waiting, closed=phase != phase_now))
    return parts


def _row(line: PlanLine, profile: Profile, person: Person, phase_now: str, decides: Sequence[str]) -> PlanRow:
    point, said = line.point, line.state
    stated = said in {"conform", "not-conform", "undecided"}
    waiting = said in {"open", "unfit", "no-part"} and line.phase == phase_now
    return PlanRow(
        point.id,
        on_paper(untested_name(point.title, profile)),
        _asks(point, profile, person),
        point.required,
        said if stated else "",
        "" if stated else STATE_WORDS[said],
        on_paper(line.why, unit_for(person, "degC")),
        ", ".join(line.steps),
        FORM_OF_POINT.get(point.kind, ""),
        query_of(_start(point)),
        waiting,
        waiting and point.title in decides,
    )


def _asks(point: Point, profile: Profile, person: Person) -> str:
    parts = []
    if point.low is not None and point.high is not None and point.channel:
        core = profile.channels[point.channel].unit if point.kind != "cross" else "ppm"
        display = display_of(core, unit_for(person, core))
        low, high = sorted((display.value(point.low), display.value(point.high)))
        parts.append(f"{plain_number(low, 3)} to {plain_number(high, 3)} {display.sign}")
    if point.balance:
        parts.append(f"in {' or '.join(point.balance)}")
    if point.feed:
        parts.append(_FEEDS.get(point.feed, point.feed))
    return ", ".join(parts)


def _start(point: Point) -> dict[str, str]:
    if FORM_OF_POINT.get(point.kind) == "gas":
        return {"point": point.id}
    given = {"channel": point.channel, "of": point.of, "feed": point.feed}
    return {name: value for name, value in given.items() if value}
