"""The running measurement as the panel shows it: what runs, its timer, the fields to type into, its channels."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.papers.content.display import name_of, unit_sign
from flueproof.shop.live.presenters.channel import ChannelView, channel_view
from flueproof.shop.live.presenters.words import KINDS, PHASES, PLACES
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.looks.of_application import TAKEN_BACK, gas_on_s, typed_rows
from flueproof.shop.records.visits.looks.trend import all_enough, trends_of
from flueproof.shop.records.visits.looks.words import as_displayed, read_back

_EVERY_S = 30


@dataclass(frozen=True, slots=True)
class Cell:
    """One field to type into: channel and moment, what stands in it, what was understood, whether a photo is there."""

    channel: str
    label: str
    unit: str
    mark_s: int
    value: str
    words: str
    photo: str


@dataclass(frozen=True, slots=True)
class Row:
    """One moment of the timer with a field per channel."""

    mark_s: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """A running application ready to show; on_for_ms: since gas on, None before; key: changes with each news."""

    application: Application
    kind: str
    phase: str
    place: str
    cylinder: str
    title: str
    on_for_ms: int | None
    start_words: str
    marks: tuple[int, ...]
    rows: tuple[Row, ...]
    channels: tuple[ChannelView, ...]
    captured: bool
    any_typed: bool
    enough: bool
    key: str


def panel_of(application: Application, now: datetime, *, large: bool = False) -> Panel:
    """Return the panel of an application; large: pictures for the second screen."""
    key = news_key(application)  # before anything else is read: what comes in meanwhile is news again
    profile = shipped_profile(application.visit.job.analyzer.profile)
    trends = trends_of(application)
    size = {"width_pt": 420.0, "height_pt": 170.0} if large else {}
    plan = application.plan
    marks = marks_of(profile)
    cells = _typed_cells(application)
    path = plan.get("path") or {}
    return Panel(
        application=application,
        kind=KINDS.get(plan["kind"], plan["kind"]),
        phase=PHASES.get(plan.get("phase", ""), ""),
        place=PLACES.get(path.get("feed", ""), "") + (", shop's probe" if path.get("probe") == "shop" else ""),
        cylinder=str(application.reference.code) if application.reference is not None else "",
        title=application.reference.title if application.reference is not None else "",
        on_for_ms=on_for_ms(application, now),
        start_words="Gas on" if plan["kind"] in {"test-gas", "swap-test"} else "Start",
        marks=marks,
        rows=tuple(_row(mark, plan["channels"], profile, cells) for mark in marks),
        channels=tuple(channel_view(one, profile.hold_s, **size) for one in trends),
        captured=bool(trends) and all(not one.typed for one in trends),
        any_typed=any(value for value, _, _ in cells.values()),
        enough=all_enough(trends),
        key=key,
    )


def news_key(application: Application) -> str:
    """Return what changes with all that a panel shows but the time: its newest reading, whether gas is on, its end."""
    last = application.readings.order_by("-id").values_list("pk", flat=True).first() or 0
    return f"{application.pk}-{last}-{application.gas_on_at is not None}-{application.ended}"


def on_for_ms(application: Application, now: datetime) -> int | None:
    """Return the time since gas on [ms], None before it."""
    if application.gas_on_at is None:
        return None
    return max(0, int((now - application.gas_on_at).total_seconds() * 1000))


def marks_of(profile: Profile) -> tuple[int, ...]:
    """Return the moments that the timer calls [s]: 0, 30, 60 ... to the profile's hold."""
    last = max(_EVERY_S, int(profile.hold_s))
    return tuple(dict.fromkeys([*range(0, last, _EVERY_S), last]))


def _typed_cells(application: Application) -> dict[tuple[str, int], tuple[str, str, str]]:
    """Return what stands in each field: value, words, photo."""
    on = gas_on_s(application) or 0.0
    steps = {one["channel"]: one["step"] for one in application.plan["channels"]}
    cells: dict[tuple[str, int], tuple[str, str, str]] = {}
    for row in typed_rows(application):
        if row.t_s is not None and row.channel in steps:
            step = row.step or steps[row.channel]
            gone = row.shown == TAKEN_BACK
            value = "" if gone else as_displayed(row.shown, step).replace("−", "-")
            words = "" if gone else read_back(row.shown, row.unit, step)
            cells[(row.channel, round(row.t_s - on))] = (value, words, row.photo)
    return cells


def _row(
    mark: int, planned: list[dict[str, str]], profile: Profile, cells: dict[tuple[str, int], tuple[str, str, str]]
) -> Row:
    made = []
    for one in planned:
        value, words, photo = cells.get((one["channel"], mark), ("", "", ""))
        channel = profile.channels.get(one["channel"])
        title = name_of(one["channel"], channel.title if channel is not None else None)
        made.append(Cell(one["channel"], f"{title} at {mark} s", unit_sign(one["unit"]), mark, value, words, photo))
    return Row(mark, tuple(made))
