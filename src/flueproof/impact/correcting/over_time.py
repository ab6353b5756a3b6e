"""When did the error come? Both ends and a linear growth, always together, never one of them silently."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from flueproof.impact.correcting.convention import Convention
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.corrected import Corrected
from flueproof.impact.correcting.readings import FieldReadings
from flueproof.impact.errors import FieldReadingError
from flueproof.impact.found.field_errors import FieldErrors

COURSES = ("full", "not_yet", "growing")
COURSE_WORDS = {
    "full": "as if the error had been there in full on that day",
    "not_yet": "as if the error had not yet been there on that day",
    "growing": "as if the error had grown evenly since the last good date",
}

COURSE_HEADS = {"full": "error there in full", "not_yet": "error not yet there", "growing": "error growing evenly"}


@dataclass(frozen=True, slots=True)
class ErrorHistory:
    """The error between the last good date and the day it was found.

    found: the errors as found; start: the state on the last good date (measured, or inside the limits); found_on: day
    of the bench test; last_good_on: day on which the analyzer was last known good, None when not known.
    """

    found: FieldErrors
    start: FieldErrors
    found_on: date
    last_good_on: date | None = None

    def __post_init__(self) -> None:
        """Refuse a last good date after the day of the finding."""
        if self.last_good_on is not None and self.last_good_on > self.found_on:
            raise FieldReadingError(
                f"the last good date {self.last_good_on} lies after {self.found_on}, the day the error was found: "
                "look the date up, or leave it open."
            )


@dataclass(frozen=True, slots=True)
class OverTime:
    """One log corrected under three courses of the error; all three belong together.

    growing: None where no last good date is known. concerned: whether the reading was taken between the last good
    date and the day of the finding, shape (n,); others are computed too and must not be read as affected.
    """

    full: Corrected
    not_yet: Corrected
    growing: Corrected | None
    concerned: NDArray[np.bool_]
    share: NDArray[np.float64]

    def courses(self) -> dict[str, Corrected]:
        """Return the courses that can be told, by name of COURSES."""
        told = {"full": self.full, "not_yet": self.not_yet}
        return told if self.growing is None else told | {"growing": self.growing}


def correct_over_time(
    readings: FieldReadings, days: ArrayLike, history: ErrorHistory, convention: Convention
) -> OverTime:
    """Return readings corrected as if the error had been there in full, not yet, and grown evenly.

    days: day of each reading, as datetime64 or dates, shape (n,); NaT where not known: then it counts as concerned.
    Raises: FieldReadingError when days and readings differ in number.
    """
    when = np.asarray(days, dtype="datetime64[D]")
    if when.shape != (len(readings),):
        raise FieldReadingError(f"{when.size} days for {len(readings)} readings: give one day per reading.")
    share, concerned = _shares(when, history)
    growing = None
    if history.last_good_on is not None:
        growing = correct(readings, history.found, convention, start=history.start, share=share)
    return OverTime(
        full=correct(readings, history.found, convention, start=history.start, share=1.0),
        not_yet=correct(readings, history.found, convention, start=history.start, share=0.0),
        growing=growing,
        concerned=concerned,
        share=share,
    )


def _shares(when: NDArray[np.datetime64], history: ErrorHistory) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """How much of a linear growth was there on each day [0..1], and which readings are concerned.

    A day that is not known counts as the last one.
    """
    found = np.datetime64(history.found_on, "D")
    unknown = np.isnat(when)
    concerned = unknown | (when <= found)
    if history.last_good_on is None:
        return np.ones(when.size), concerned
    good = np.datetime64(history.last_good_on, "D")
    span = max(float((found - good) / np.timedelta64(1, "D")), 1.0)
    passed = (np.where(unknown, found, when) - good) / np.timedelta64(1, "D")
    return np.clip(passed / span, 0.0, 1.0), concerned & (unknown | (when >= good))
