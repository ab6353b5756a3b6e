"""The notice to an owner as plain data: the same words for letter, e-mail and the page."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from flueproof.bench.record.record import Record
from flueproof.impact.correcting.over_time import COURSE_HEADS, COURSE_WORDS
from flueproof.impact.duties.duty import Duty
from flueproof.impact.duties.sizes import Units
from flueproof.impact.field_log.results import LogResult, RowResult
from flueproof.impact.statements.limits import NAMES
from flueproof.impact.statements.wording import HEADS, ONE_RULE, limit_in_words

CO_LOW_FIRST = (
    "It showed carbon monoxide too low. Places that you called safe with it since its last good check may not be. "
    "Please look at those jobs again, those with people asleep in the house first."
)
OTHERS_FIRST = (
    "You relied on this analyzer since its last good check. Please look at the jobs for which the values named "
    "here mattered."
)
REFERENCE_FIRST = (
    "What our paper said of this analyzer does not hold any more. Please bring it in to be tested again. "
    "Until then do not rely on the values named here."
)
DO_NOT_USE = "The analyzer carries a do-not-use tag. Please do not use it until it is mended and proven."
STOP_USING = "Please stop using this analyzer now, until it has been tested again."
MOST_LINES = 60
_AIR_FREE = {
    "low": " and CO air-free with it, so a poor burner looked better than it was.",
    "none": "; CO air-free was not, because the leak thins CO and flue gas alike.",
    "high": "; CO air-free came out too high.",
}


@dataclass(frozen=True, slots=True)
class NoticeFrame:
    """What the shop adds.

    phone: who to call; by: who signs; written_on; last_good_on: last day on which the analyzer was known good, None
    where not known; units: `us` or `si`.
    """

    phone: str
    by: str
    written_on: date
    last_good_on: date | None = None
    units: Units = "us"


@dataclass(frozen=True, slots=True)
class Notice:
    """A notice in parts; every part is text for people. changed: (day, site, what, corrected) per reading."""

    subject: str
    opening: str
    warning: str
    findings: tuple[str, ...]
    meaning: tuple[str, ...]
    time: str
    changed_head: str
    changed: tuple[tuple[str, str, str, str], ...]
    left_out: int
    limits: tuple[str, ...]
    courses: str
    rule: str
    call: str
    by: str

    def as_dict(self) -> dict[str, Any]:
        """Return plain values."""
        return {name: getattr(self, name) for name in self.__slots__}


def notice_of(duty: Duty, record: Record, frame: NoticeFrame, log: LogResult | None = None) -> Notice:
    """Return the notice about one analyzer; log: the owner's own readings worked through, if the owner gave them."""
    analyzer = record.analyzer
    # the maker once where the model's name begins with it
    named = analyzer.model if analyzer.model.startswith(analyzer.make) else f"{analyzer.make} {analyzer.model}"
    item = f"{named}, serial {analyzer.serial}"
    changed = _changed(log, frame.units) if log is not None else ()
    return Notice(
        subject=f"{item}: {duty.headline}",
        opening=_opening(duty, record),
        warning=_warning(duty),
        findings=(*(size.words for size in duty.sizes), *duty.further),
        meaning=_meaning(duty),
        time=_time(duty, frame),
        changed_head=_changed_head(log),
        changed=changed[:MOST_LINES],
        left_out=max(len(changed) - MOST_LINES, 0),
        limits=tuple(limit_in_words(limit) for limit in log.limits) if log is not None else (),
        courses=_courses(duty, log),
        rule=ONE_RULE,
        call=f"Questions, or a loan unit to test again with: call {record.shop.name}"
        + (f", {frame.phone}." if frame.phone else "."),
        by=frame.by,
    )


def notice_text(notice: Notice) -> str:
    """Return the notice as text for an e-mail, first line the subject."""
    parts = [notice.subject, "", notice.opening, *(f"- {line}" for line in notice.findings), ""]
    parts += [text for text in (notice.warning,) if text]
    parts += [*notice.meaning, notice.time, ""]
    if notice.changed_head:
        parts += [notice.changed_head, *(f"- {' | '.join(part for part in line if part)}" for line in notice.changed)]
        parts += [f"- and {notice.left_out} more in the list that comes with this" for _ in range(notice.left_out > 0)]
        parts += [*notice.limits, notice.courses, ""]
    return "\n".join([*parts, notice.rule, notice.call, "", notice.by])


def notice_facts(duty: Duty, log: LogResult | None) -> Mapping[str, Any]:
    """Return what a shop keeps of a notice: the duty, and of a log only the counts."""
    return duty.as_dict() | ({} if log is None else {"log": {"readings": len(log.rows), "counts": dict(log.counts)}})


def _opening(duty: Duty, record: Record) -> str:
    if duty.kind == "reference":
        return (
            f"We tested your analyzer (our job {record.job}) with a reference of ours that has turned out wrong. Your "
            "paper stays on file as it was; judged again with the right value, this is what changes:"
        )
    return f"We tested your analyzer as it came in (our job {record.job}) and found it wrong before any work on it:"


def _warning(duty: Duty) -> str:
    if duty.kind == "reference" and not duty.same_day:
        return REFERENCE_FIRST
    words = CO_LOW_FIRST if duty.same_day else OTHERS_FIRST
    if not duty.do_not_use:
        return words
    return f"{words} {STOP_USING if duty.kind == 'reference' else DO_NOT_USE}"


def _meaning(duty: Duty) -> tuple[str, ...]:
    by_channel = {size.channel: size.direction for size in duty.sizes}
    said: list[str] = []
    if duty.kind == "reference":  # its sizes are points before and after, of which only the dangerous one means much
        return ("CO was shown too low" + _AIR_FREE["low"],) if duty.same_day else ()
    air_free = by_channel.get("co_air_free", by_channel.get("co", ""))
    if by_channel.get("co") in {"low", "no-reading"}:
        said.append("CO was shown too low" + _AIR_FREE[air_free if air_free in _AIR_FREE else "low"])
    elif by_channel.get("co") == "high":
        said.append("CO was shown too high: an alarm may have been false, but do not take it back without a new test.")
    elif air_free == "low":
        said.append("CO air-free came out too low, so a poor burner looked better than it was.")
    if by_channel.get("o2") == "high":
        said.append("O2 and excess air came out too high and efficiency too low.")
    if by_channel.get("o2") == "low":
        said.append("O2 and excess air came out too low and efficiency too high.")
    if "stack" in by_channel or "air" in by_channel:
        said.append("Flue loss and efficiency are off by as much as the temperatures are.")
    return tuple(said)


def _time(duty: Duty, frame: NoticeFrame) -> str:
    if duty.kind == "reference":
        return "This holds for all readings since that visit, until the analyzer has been tested again."
    if frame.last_good_on is None:
        return "When this began cannot be told: no earlier good check is known to us."
    good = f"{frame.last_good_on.day} {frame.last_good_on:%B %Y}"
    return f"It was last known good on {good}. When the error began between then and now cannot be told."


def _changed_head(log: LogResult | None) -> str:
    if log is None or not log.limits:  # nothing was compared, so nothing can be said to have stayed
        return ""
    count = len(log.danger)
    if not count:
        return (
            "Of the readings you gave us none changes its statement. They remain readings of an analyzer found wrong."
        )
    return f"Of the {len(log.rows)} readings you gave us, {count} must be tested again:"


def _courses(duty: Duty, log: LogResult | None) -> str:
    if log is None or not log.limits:
        return ""
    if duty.kind == "reference":
        return "Each reading was worked through with the error that the analyzer really went home with."
    said = "; ".join(COURSE_WORDS[name] for name in log.courses)
    return f"Each reading was worked through {said}; the most dangerous answer counts."


def _changed(log: LogResult, units: Units) -> tuple[tuple[str, str, str, str], ...]:
    return tuple(_line(one, units) for one in log.danger)


def _line(one: RowResult, units: Units) -> tuple[str, str, str, str]:
    day = "no date" if one.row.day is None else one.row.day.isoformat()
    worst = next((change for change in one.changes if change.worst == one.worst), None)
    if worst is None:
        return day, one.row.site, HEADS[one.worst], ""
    course = next(name for name, change in worst.by_course.items() if change == one.worst)
    value, wide = one.corrected[course][worst.limit.quantity]
    shown = one.shown[worst.limit.quantity]
    name = NAMES[worst.limit.quantity]
    unit = worst.limit.unit
    said = f"{name} shown {_figure(shown, unit, units)}"
    if math.isfinite(value):
        low, high = (_figure(end, unit, units) for end in (max(value - wide, 0.0), value + wide))
        said += f", corrected {low.rsplit(' ', 1)[0]} to {high} ({COURSE_HEADS[course]})"
    return day, one.row.site, HEADS[one.worst], said


def _figure(value: float, unit: str, units: Units) -> str:
    if unit == "degC":
        return f"{1.8 * value + 32.0:.0f} \N{DEGREE SIGN}F" if units == "us" else f"{value:.0f} \N{DEGREE SIGN}C"
    return f"{value:.0f} ppm" if unit == "ppm" else f"{value:.1f} %"


def several(duties: Sequence[Duty]) -> tuple[Duty, ...]:
    """Return duties in the order in which they are to be done: CO that reads low first, tagged ones before others."""
    return tuple(sorted(duties, key=lambda one: (not one.same_day, not one.do_not_use, one.headline)))
