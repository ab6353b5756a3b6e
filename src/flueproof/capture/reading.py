"""One reading as it is kept and sent: a sequence number, a time, and what one channel showed."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import dataclass
from typing import Any

from .lines.pattern import Shown


@dataclass(frozen=True, slots=True)
class Reading:
    """One channel of one line.

    sequence: grows strictly, is never given twice; at: when the line's end was read, UTC with its offset.
    """

    sequence: int
    at: str
    shown: Shown

    def to_json_dict(self) -> dict[str, Any]:
        """Return the row as it goes over the wire."""
        what = self.shown
        row: dict[str, Any] = {"sequence": self.sequence, "at": self.at, "channel": what.channel, "unit": what.unit}
        return {**row, "step": what.step, "shown": what.shown}


def body_of(agent: str, readings: list[Reading]) -> bytes:
    """Return the body of one post: the agent's id and its readings in order, as JSON in UTF-8."""
    rows = [one.to_json_dict() for one in readings]
    return json.dumps({"agent": agent, "readings": rows}, ensure_ascii=False, allow_nan=False).encode("utf-8")


def moment_text(moment: dt.datetime) -> str:
    """Return a moment as it is sent: ISO 8601, UTC, milliseconds, with its offset."""
    return moment.astimezone(dt.UTC).isoformat(timespec="milliseconds")
