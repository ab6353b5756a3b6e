"""What an agent posts, read strictly: one bad row and the batch is refused whole, with the row's index."""

from __future__ import annotations

import json
import math
from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.visits.looks.arriving import Arrived

MOST_READINGS: Final = 500
LARGEST_BODY: Final = 1_000_000
_LAST_SEQUENCE: Final = 2**63 - 1
_LARGEST: Final = 1e9
_CHANNEL, _UNIT, _TEXT, _AGENT = 24, 12, 40, 64


class BodyRefusedError(ValueError):
    """A batch that is not stored; message: what is wrong and where, remedy: what to do."""

    def __init__(self, message: str, remedy: str, status: int = 422) -> None:
        """Hold both and the HTTP status."""
        super().__init__(message)
        self.message, self.remedy, self.status = message, remedy, status


def read_body(content: bytes) -> tuple[str, list[Arrived]]:
    """Return the agent's id and its readings.

    Raises: BodyRefusedError.
    """
    if len(content) > LARGEST_BODY:
        raise BodyRefusedError("The batch is too large.", "Send it in smaller parts.", status=413)
    try:
        tree = json.loads(content)
    except (ValueError, RecursionError):
        raise BodyRefusedError("The body is no JSON.", "Send the agent's id and its readings as JSON.") from None
    rows = tree.get("readings") if isinstance(tree, dict) else None
    agent = tree.get("agent") if isinstance(tree, dict) else None
    if not _is_text(agent, _AGENT):
        raise BodyRefusedError(
            f"agent is no text of 1 to {_AGENT} signs.", "Give the agent an id of its own with --agent."
        )
    if not isinstance(rows, list) or not rows:
        raise BodyRefusedError("There are no readings.", "Send at least one.")
    if len(rows) > MOST_READINGS:
        raise BodyRefusedError(
            f"{len(rows)} readings are more than {MOST_READINGS}.", "Send them in smaller parts.", status=413
        )
    readings = [_reading(row, place) for place, row in enumerate(rows)]
    _refuse_repeated_numbers(readings)
    return str(agent), readings


def _refuse_repeated_numbers(readings: list[Arrived]) -> None:
    seen: set[int] = set()
    for place, one in enumerate(readings):
        if one.sequence in seen:
            raise BodyRefusedError(
                f"readings[{place}]: the number {one.sequence} stands twice in this batch.",
                "Give each reading a number of its own, growing.",
            )
        seen.add(one.sequence)


def _reading(row: Any, place: int) -> Arrived:
    try:
        return _read(row)
    except ValueError as error:
        raise BodyRefusedError(
            f"readings[{place}]: {error}.", "Correct the pattern of the agent; nothing of this batch is stored."
        ) from None


def _read(row: Any) -> Arrived:
    if not isinstance(row, dict):
        raise ValueError("is no object")  # noqa: TRY004 -- one kind of error for the row
    sequence = row.get("sequence")
    if isinstance(sequence, bool) or not isinstance(sequence, int) or not 0 < sequence <= _LAST_SEQUENCE:
        raise ValueError("sequence is no whole number above 0")
    if not _is_text(row.get("channel"), _CHANNEL):
        raise ValueError(f"channel is no text of 1 to {_CHANNEL} signs")
    if not _is_text(row.get("unit"), _UNIT):
        raise ValueError(f"unit is no text of 1 to {_UNIT} signs")
    return Arrived(
        sequence, _at(row.get("at")), row["channel"], row["unit"], _step(row.get("step")), _shown(row.get("shown"))
    )


def _is_text(given: Any, longest: int) -> bool:
    return isinstance(given, str) and bool(given.strip()) and len(given) <= longest and given.isprintable()


def _at(given: Any) -> datetime:
    try:
        at = datetime.fromisoformat(given)
    except (TypeError, ValueError):
        raise ValueError("at is no ISO 8601 time") from None
    if at.tzinfo is None:
        raise ValueError("at has no offset from UTC")
    if not 2000 <= at.year <= 2200:
        raise ValueError(f"at is in the year {at.year}")
    return at


def _step(given: Any) -> float | None:
    if given is None:
        return None
    if not _is_number(given) or not 0 < given <= _LARGEST:
        raise ValueError("step is no number above 0")
    return float(given)


def _shown(given: Any) -> float | str:
    if _is_text(given, _TEXT):
        return str(given)
    if not _is_number(given) or abs(given) > _LARGEST:
        raise ValueError(f"shown is neither a number nor a text of 1 to {_TEXT} signs")
    number: float = given
    return number


def _is_number(given: Any) -> bool:
    if isinstance(given, bool) or not isinstance(given, int | float):
        return False
    try:
        return math.isfinite(given)
    except OverflowError:
        return False
