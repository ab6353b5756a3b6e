"""From the rows of an application to what its step will hold: one reading per channel, in the order of time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from flueproof.shop.records.models import Application

TAKEN_BACK: Final = ""  # a typed field that was emptied again; a blank display is typed as ----
FILED: Final = "file:"  # how the source of readings from a logger's file begins
_LEAD_S: Final = 30.0  # looks so long before gas on still tell the reading before the step (own choice)


class Row(NamedTuple):
    """What a reading's row says of the display; a trace has hundreds, so no more of each is fetched."""

    pk: int
    channel: str
    unit: str
    step: float | None
    shown: float | str
    t_s: float | None
    photo: str
    station_id: int | None
    source: str


@dataclass(frozen=True, slots=True)
class ChannelLooks:
    """The looks of one channel that count: times from the application's begin [s], shown as on the display [unit]."""

    channel: str
    unit: str
    step: float | None
    t_s: tuple[float, ...]
    shown: tuple[float | str, ...]
    photos: tuple[str, ...]
    typed: bool


def looks_of(application: Application) -> list[ChannelLooks]:
    """Return what counts of an application's readings, channels in the order of its plan.

    A typed value entered anew for the same moment replaces the one before, an emptied one counts no more (both rows
    stay in the table). Where an agent or a file gave at least as many looks at a channel as were typed, they are the
    trace and the typed ones stand beside it.
    """
    rows = [Row(*row) for row in application.readings.order_by("id").values_list(*Row._fields)]
    order = [one["channel"] for one in application.plan.get("channels", [])]
    names = order + sorted({row.channel for row in rows} - set(order))
    kept = [_of_channel(name, [row for row in rows if row.channel == name]) for name in names]
    return [one for one in kept if one is not None]


def typed_rows(application: Application) -> list[Row]:
    """Return what a person typed, in the order it came."""
    rows = application.readings.filter(station=None).order_by("id").values_list(*Row._fields)
    return [row for row in (Row(*one) for one in rows) if is_typed(row)]


def _of_channel(channel: str, rows: list[Row]) -> ChannelLooks | None:
    typed = _typed(row for row in rows if is_typed(row))
    traced = [row for row in rows if not is_typed(row) and row.t_s is not None and row.t_s >= 0]
    chosen, by_hand = (traced, False) if traced and len(traced) >= len(typed) else (typed, True)
    if not chosen:
        return None
    chosen = sorted(chosen, key=lambda row: (row.t_s or 0.0, row.pk))
    unit = chosen[-1].unit
    same = [row for row in chosen if row.unit == unit]
    return ChannelLooks(
        channel,
        unit,
        next((row.step for row in reversed(same) if row.step), None),
        tuple(float(row.t_s or 0.0) for row in same),
        tuple(row.shown for row in same),
        tuple(dict.fromkeys(row.photo for row in same if row.photo)),
        by_hand,
    )


def is_typed(row: Row) -> bool:
    """Return whether a person typed it: what an agent sends carries its station, a file's readings their source."""
    return row.station_id is None and not row.source.startswith(FILED)


def _typed(rows: Iterable[Row]) -> list[Row]:
    last: dict[float | None, Row] = {}
    for row in rows:
        last[row.t_s] = row
    return [row for row in last.values() if row.shown != TAKEN_BACK]


def origin_s(application: Application, looks: list[ChannelLooks]) -> float:
    """Return where the step begins, from the application's begin [s]: at gas on, or at the looks shortly before it."""
    on = gas_on_s(application)
    if on is None:
        return min((one.t_s[0] for one in looks), default=0.0)
    return min([on, *(at for one in looks for at in one.t_s if at >= on - _LEAD_S)])


def gas_on_s(application: Application) -> float | None:
    """Return when gas was put on, from the application's begin [s]; None before it was."""
    if application.gas_on_at is None:
        return None
    return (application.gas_on_at - application.began_at).total_seconds()


def as_in_step(one: ChannelLooks, origin: float, steps: dict[str, float]) -> dict[str, Any]:
    """Return one reading of the step, times from `origin` [s]; steps: display step per channel where none was sent."""
    places = [place for place, at in enumerate(one.t_s) if at >= origin]
    return {
        "channel": one.channel,
        "unit": one.unit,
        "step": one.step or steps[one.channel],
        "t_s": [round(one.t_s[place] - origin, 3) for place in places],
        "shown": [one.shown[place] for place in places],
    }
