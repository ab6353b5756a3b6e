"""What a display showed, read as numbers and bounds.

A text such as OVER or ---- is a bound, not a number; so is a CO of 0 on a display that cannot go below, and an O2
that snaps to 20.9 near air.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.errors import NoReadingsError, ShownError, TimesError

FloatArray = NDArray[np.float64]
ShownValue = float | int | str | None
Bound = str | None

ABOVE = "above"
BELOW = "below"
ABSENT = "absent"
SNAPPED = "snapped"

# Texts of displays and loggers, upper case, spaces removed (common practice, no source).
TEXT_BOUNDS = {
    ABOVE: frozenset(
        {"OVER", "OVERRANGE", "OVER-RANGE", "OFL", "OVL", "OL", "O.L.", "HI", "HIGH", "+++", "++++", ">>>", ">>>>"}
    ),
    BELOW: frozenset({"UNDER", "UNDERRANGE", "UNDER-RANGE", "UFL", "LO", "LOW", "<<<", "<<<<"}),
    ABSENT: frozenset({"", "NA", "N/A", "NONE", "NULL", "ERR", "ERROR"}),
}
LONGEST_TEXT = 40


@dataclass(frozen=True, slots=True)
class Looks:
    """Looks at one channel during one application.

    times_s: ascending [s], shape (looks,), or None for looks at a settled display; values: shape (looks,) [unit of
    the channel], nan where no number was shown, the shown number where it is clamped or snapped; bounds: per look None,
    "above", "below", "absent" or "snapped"; step: display step [unit], None when not known; texts: the text shown,
    None for a number; snap_width: half width of the range that snaps [unit].
    Source: bench record format 1, "Readings".
    """

    times_s: FloatArray | None
    values: FloatArray
    bounds: tuple[Bound, ...]
    step: float | None
    texts: tuple[str | None, ...] = ()
    snap_width: float = 0.0

    def __len__(self) -> int:
        return len(self.values)

    def until(self, time_s: float) -> Looks:
        """Return the looks not later than a time [s] (all of them when there are no times; own rule)."""
        if self.times_s is None:
            return self
        return self.pick(self.times_s <= time_s)

    def pick(self, keep: NDArray[np.bool_]) -> Looks:
        """Return the looks where `keep`, shape (looks,), is true (own rule; values in [unit of the channel])."""
        chosen = np.flatnonzero(keep).tolist()
        return Looks(
            None if self.times_s is None else self.times_s[keep],
            self.values[keep],
            tuple(self.bounds[place] for place in chosen),
            self.step,
            tuple(self.texts[place] for place in chosen) if self.texts else (),
            self.snap_width,
        )

    def shown_at(self, place: int) -> float | str | None:
        """Return what was shown at one look: number [unit of the channel], text, or None (own rule)."""
        if self.texts and self.texts[place] is not None:
            return self.texts[place]
        value = float(self.values[place])
        return None if math.isnan(value) else value


def text_as_shown(text: str) -> tuple[float, Bound]:
    """Return number and bound that a shown text stands for.

    text: as shown; a decimal comma is understood; "> 2000" is a bound above, "< 5" one below.
    Returns: (number [unit of the channel] or nan, bound).
    Raises: ShownError.
    Source: common practice of displays and loggers, no source.
    """
    tight = "".join(text.split()).upper()
    for bound, texts in TEXT_BOUNDS.items():
        if tight in texts:
            return math.nan, bound
    if set(tight) <= set("-.*_–—"):
        return math.nan, ABSENT
    number = _number(tight)
    if number is not None:
        return number, None
    if tight[0] in "<>" and _number(tight[1:].lstrip("=")) is not None:
        return math.nan, ABOVE if tight[0] == ">" else BELOW
    raise ShownError(
        f"shown text {text[:LONGEST_TEXT]!r} is neither a number nor a text a display gives; write the number as "
        "shown, OVER for above the range, UNDER for below it, or ---- for no reading"
    )


def _number(tight: str) -> float | None:
    if not tight or tight[-1] not in "0123456789." or set(tight) - set("0123456789.,+-E"):
        return None
    if tight.count(",") == 1 and "." not in tight:
        tight = tight.replace(",", ".")
    try:
        value = float(tight)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _one_shown(shown: ShownValue, place: int) -> tuple[float, Bound, str | None]:
    if shown is None:
        return math.nan, ABSENT, ""
    if isinstance(shown, bool) or not isinstance(shown, (int, float, str, np.integer, np.floating)):
        raise ShownError(f"look {place + 1} is {shown!r}; a shown value is a number or a text such as OVER or ----")
    if isinstance(shown, str):
        try:
            value, bound = text_as_shown(shown)
        except ShownError as error:
            raise ShownError(f"look {place + 1}: {error}") from None
        return value, bound, None if bound is None else shown
    value = float(shown)
    if not math.isfinite(value):
        raise ShownError(f"look {place + 1} is {value}; write ---- when the display showed no number")
    return value, None, None


def _checked_times(times_s: Sequence[float] | FloatArray, looks: int) -> FloatArray:
    times = np.asarray(times_s, dtype=np.float64)
    if times.shape != (looks,):
        raise TimesError(f"{times.size} times for {looks} shown values; give one time for each look, or no times")
    if not np.isfinite(times).all():
        place = int(np.flatnonzero(~np.isfinite(times))[0])
        raise TimesError(f"time of look {place + 1} is {times[place]}; give seconds from the start of the step")
    falls = np.flatnonzero(np.diff(times) < 0)
    if falls.size:
        place = int(falls[0]) + 1
        raise TimesError(
            f"time of look {place + 1} is {times[place]:g} s, before look {place} at {times[place - 1]:g} s; "
            "put the looks in the order of time"
        )
    return times


def read_shown(
    shown: Sequence[ShownValue] | FloatArray,
    times_s: Sequence[float] | FloatArray | None = None,
    step: float | None = None,
    *,
    clamp_low: float | None = None,
    snap_to: float | None = None,
    snap_width: float = 0.0,
) -> Looks:
    """Return what a display showed as numbers and bounds.

    shown: numbers [unit of the channel] or texts, one per look; times_s: ascending [s], or None; step: display step
    [unit]; clamp_low: the display cannot show less [unit]: that value is a bound "below"; snap_to, snap_width: values
    within the width are shown as snap_to [unit]: that value is a bound "snapped".
    Returns: Looks; a sample logged twice at one time is kept once.
    Raises: ShownError, TimesError, NoReadingsError.
    Source: common practice, no source; what clamps and snaps is in the analyzer's profile.
    """
    if len(shown) == 0:
        raise NoReadingsError("no shown values; write at least one look at the display")
    read = [_one_shown(value, place) for place, value in enumerate(shown)]
    near = 1e-6 * (step or 1e-3)
    bounds: list[Bound] = []
    for value, bound, _ in read:
        if bound is None and clamp_low is not None and value <= clamp_low + near:
            bounds.append(BELOW)
        elif bound is None and snap_to is not None and snap_width > 0 and abs(value - snap_to) <= near:
            bounds.append(SNAPPED)
        else:
            bounds.append(bound)
    looks = Looks(
        None if times_s is None else _checked_times(times_s, len(read)),
        np.array([value for value, _, _ in read]) + 0.0,  # no negative zero
        tuple(bounds),
        step,
        tuple(text for _, _, text in read),
        snap_width,
    )
    if looks.times_s is None:
        return looks
    return looks.pick(np.concatenate(([True], np.diff(looks.times_s) > 0)))
