"""What an owner is told when a reference of the shop's own was wrong; and what that did to readings after the visit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.bench.record.record import Record
from flueproof.impact.correcting.over_time import ErrorHistory
from flueproof.impact.duties.duty import CO_CHANNELS, Duty
from flueproof.impact.duties.sizes import NAMES, Size, Units
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.reference.change import ReferenceChange, record_with
from flueproof.impact.reference.rejudging import PointChange, Rejudged

_US = {"degC": "degF", "Pa": "inH2O"}
_SIGNS = {"degC": "\N{DEGREE SIGN}C", "degF": "\N{DEGREE SIGN}F"}
_SAID = {"conform": "inside the limit", "not-conform": "outside the limit", "undecided": "too close to call"}


def reference_duty(again: Rejudged, reference: str, units: Units = "us") -> Duty | None:
    """Return the duty towards the owner of a visit that a wrong reference touched, None where nothing changed.

    reference: what the shop calls it. CO that was called conform and reads low in truth is a call the same day.
    ISO/IEC 17025:2017, 7.10, second-hand.
    """
    if not again.changed:
        return None
    low = [
        point for point in again.danger
        if point.channel in CO_CHANNELS and point.after == "not-conform" and _is_low(point)
    ]  # fmt: skip
    still_low = [point for point in low if point.phase == "as-left" or again.outcome_after["as-left"] is None]
    head = f"it was checked with a reference of ours that was wrong ({reference})"
    if low:
        head = f"CO read too low; {head}"
    return Duty(
        kind="reference",
        same_day=bool(low),
        do_not_use=bool(still_low),
        headline=head,
        why="What we said of this analyzer does not hold: tell the owner what changed." if again.danger
        else "What we said of this analyzer was too strict, or open: tell the owner.",
        sizes=tuple(_size(point, units) for point in _by_danger(again.changed)),
        further=(_outcomes(again),) if again.outcome_before != again.outcome_after else (),
    )  # fmt: skip


def errors_that_went_home(
    record: Record, profile: Profile, change: ReferenceChange, *, bundle: Bundle = EMPTY_BUNDLE
) -> FieldErrors:
    """Return the errors with which the analyzer left, judged with the reference's right value.

    As left where it was worked on, as found otherwise. Raises: as `errors_as_found` and `record_with`.
    """
    right = record_with(record, change)
    left = any(getattr(step, "phase", None) == "as-left" for step in right.standing_steps())
    return errors_as_found(right, profile, bundle=bundle, phase="as-left" if left else "as-found")


def history_since_visit(errors: FieldErrors, visited_on: date, told_on: date) -> ErrorHistory:
    """Return the history of readings taken since the visit: the error was there in full from that day on."""
    return ErrorHistory(found=errors, start=errors, found_on=told_on, last_good_on=visited_on)


def _is_low(point: PointChange) -> bool:
    return not math.isfinite(point.error_after) or point.error_after < 0.0


def _by_danger(points: Sequence[PointChange]) -> list[PointChange]:
    order = {"worse": 0, "moved": 1, "better": 2, "same": 3}
    return sorted(
        points, key=lambda point: (order[point.direction], point.channel not in CO_CHANNELS, not point.counts)
    )


def _size(point: PointChange, units: Units) -> Size:
    unit = _US.get(point.unit, point.unit) if units == "us" else point.unit
    places, sign = (3 if unit == "inH2O" else 1), _SIGNS.get(unit, unit)

    def value(core: float) -> str:
        return f"{float(from_core(core, unit, point.unit)):.{places}f} {sign}"

    def error(core: float) -> str:
        return (
            f"{float(difference_from_core(core, unit, point.unit)):+.{places}f} {sign}"
            if math.isfinite(core)
            else "none"
        )

    words = (
        f"{NAMES.get(point.channel, point.channel)}, {point.phase.replace('-', ' ')}, on what we took for "
        f"{value(point.reference_before)} and was {value(point.reference_after)}: we said error "
        f"{error(point.error_before)}, {_SAID[point.before]}; it was {error(point.error_after)}, {_SAID[point.after]}."
    )
    direction = "none" if point.error_after == 0.0 else ("low" if _is_low(point) else "high")
    low, high = point.error_after - point.U_after, point.error_after + point.U_after
    return Size(point.channel, direction, point.error_after, low, high, point.unit, words)


def _outcomes(again: Rejudged) -> str:
    phase = "as-left" if again.outcome_before["as-left"] is not None else "as-found"
    before, after = again.outcome_before[phase], again.outcome_after[phase]
    if before == after:
        return "The outcome of the visit as a whole stays the same."
    return (
        f'The visit as a whole ended as "{(before or "none").replace("-", " ")}"; with the right value it would have '
        f'been "{(after or "none").replace("-", " ")}".'
    )
