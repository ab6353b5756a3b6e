"""The morning check: three minutes on the control analyzer open the bench for the day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from flueproof.shop.records.gas.admitting import condition_of
from flueproof.shop.records.gas.control import ControlLine
from flueproof.shop.records.gas.course import course_of, jump_of
from flueproof.shop.records.gas.holding import doubtful_jobs, hold
from flueproof.shop.records.models import Analyzer, MorningCheck, Person, Reference, Shop, Station
from flueproof.testgas.span.course import JUMP_U, Jump

_SAME_PRESS: Final = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class MorningEntry:
    """What was found: the day, the bench (None: all benches), the control analyzer, room CO [ppm], vent, regulators.

    course_anew: the control analyzer was adjusted or repaired since its last good check: its limits still hold, but
    nothing earlier says what its span factors should be.
    """

    day: date
    station: Station | None
    analyzer: Analyzer
    room_co_ppm: float
    vent_ok: bool
    regulator_ok: bool
    lines: tuple[ControlLine, ...]
    course_anew: bool = False


@dataclass(frozen=True, slots=True)
class Weighed:
    """What follows: each line with its jump, whether the check passes, why not (one sentence each), CO alarm or not."""

    lines: tuple[tuple[ControlLine, Jump | None], ...]
    passed: bool
    why_not: tuple[str, ...]
    alarm: bool

    @property
    def jumped(self) -> bool:
        """Return whether any span factor jumped."""
        return any(jump is not None and jump.is_jump for _, jump in self.lines)


def last_check(day: date, station: Station | None = None) -> MorningCheck | None:
    """Return the last check of a day: at this bench or for all benches; without a bench the last one anywhere."""
    checks = MorningCheck.objects.filter(day=day)
    if station is not None:
        checks = checks.filter(Q(station=station) | Q(station=None))
    return checks.order_by("-id").first()


def why_closed(day: date, shop: Shop, station: Station | None = None) -> str:
    """Return why no bench work may be done on a day, in one sentence; "" when the bench is open.

    A failed check closes the bench also in a shop that does not ask for one.
    """
    check = last_check(day, station)
    if check is None:
        if not shop.morning_check_needed:
            return ""
        return f"The morning check of {day.day} {day:%B} is not done yet: three minutes on the control analyzer."
    if check.passed:
        return ""
    at = timezone.localtime(check.at)
    return f"The bench is closed: the morning check failed at {at:%H:%M}. {check.why_not}".strip()


def bottles_in_use(day: date) -> tuple[list[Reference], list[str]]:
    """Return the bottles to read in the morning, and of the others that are called in use why they are not read."""
    found, left_out = [], []
    for bottle in Reference.objects.filter(kind="test-gas", state="in-use").order_by("code"):
        said = condition_of(bottle, day)
        if said:
            left_out.append(said)
        else:
            found.append(bottle)
    return found, left_out


def stop_sentence(room_co_ppm: float, shop: Shop) -> str:
    """Return the sentence that stops everything, "" while the room's CO is below the shop's alarm.

    Source: common practice, no source; local codes and licensed practice come first.
    """
    if room_co_ppm < shop.room_co_alarm_ppm:
        return ""
    return (
        f"Stop: {room_co_ppm:g} ppm CO in the room. Everybody out, ventilate, call for help. Nobody works here until "
        "the room is clear."
    )


def weigh(entry: MorningEntry, shop: Shop) -> Weighed:
    """Return what a check says, with nothing written."""
    why = []
    if alarm := stop_sentence(entry.room_co_ppm, shop):
        why.append(alarm)
    if not entry.vent_ok:
        why.append("The vent is not free to the outdoors: no gas is put on.")
    if not entry.regulator_ok:
        why.append("A regulator or line leaks or does not hold its pressure.")
    if not entry.lines:
        why.append("No bottle was read, so nothing was checked.")
    courses: dict[str, list[Any]] = {}
    weighed = []
    for line in entry.lines:
        if line.channel not in courses:
            courses[line.channel] = course_of(entry.analyzer, line.channel)
        jump = None if entry.course_anew else jump_of(line, courses[line.channel])
        weighed.append((line, jump))
        why += _line_fails(line, jump)
    return Weighed(tuple(weighed), not why, tuple(why), bool(alarm))


def _line_fails(line: ControlLine, jump: Jump | None) -> list[str]:
    said = []
    if line.statement != "conform":
        shown = "no number" if line.settled is None else f"{line.settled:g} {line.unit}"
        error = "" if line.error is None else f", error {line.error:+.3g}"
        said.append(
            f"{line.reference}: {line.title} shows {shown} for {line.reference_value:g} {line.unit}{error}, "
            f"limit {line.limit:.3g} {line.unit}."
        )
    if jump is not None and jump.is_jump:
        said.append(
            f"{line.reference}: the span factor of {line.title} jumped by {100 * jump.difference:+.2f} %, "
            f"{abs(jump.score):.1f} standard uncertainties; more than {JUMP_U:g} is a jump."
        )
    return said


def record_morning(entry: MorningEntry, by: Person, now: datetime, shop: Shop) -> MorningCheck:
    """Keep a check and return it; a failed one holds every open job tested since the last good check.

    The same person pressing again with the same values gets the check that is already kept.
    """
    with transaction.atomic():
        Shop.objects.select_for_update().get(pk=shop.pk)
        weighed = weigh(entry, shop)
        lines = [_kept(line, jump, begins=entry.course_anew) for line, jump in weighed.lines]
        if (first := _pressed_before(entry, lines, by, now)) is not None:
            return first
        held: list[str] = []
        if not weighed.passed:
            why = f"morning check of {entry.day.isoformat()} failed: {' '.join(weighed.why_not)}"
            held = hold(doubtful_jobs(now, entry.station).open_jobs, why, by, now)
        return MorningCheck.objects.create(
            day=entry.day,
            station=entry.station,
            analyzer=entry.analyzer,
            at=now,
            by=by,
            room_co_ppm=entry.room_co_ppm,
            vent_ok=entry.vent_ok,
            regulator_ok=entry.regulator_ok,
            lines=lines,
            passed=weighed.passed,
            why_not=" ".join(weighed.why_not),
            held_jobs=held,
        )


def _kept(line: ControlLine, jump: Jump | None, *, begins: bool) -> dict[str, Any]:
    kept = {**line.as_json(), "begins": begins}
    kept["jump"] = None if jump is None else {"difference": jump.difference, "u": jump.u, "is_jump": jump.is_jump}
    kept["passed"] = not _line_fails(line, jump)
    return kept


def _pressed_before(entry: MorningEntry, lines: list[dict[str, Any]], by: Person, now: datetime) -> MorningCheck | None:
    last = last_check(entry.day, entry.station)
    if last is None or last.by_id != by.pk or now - last.at > _SAME_PRESS or last.station_id != _key(entry.station):
        return None
    typed, kept = [_typed(line) for line in lines], [_typed(line) for line in last.lines]
    values = (entry.room_co_ppm, entry.vent_ok, entry.regulator_ok, entry.analyzer.pk)
    same = values == (last.room_co_ppm, last.vent_ok, last.regulator_ok, last.analyzer_id)
    return last if same and typed == kept else None


def _typed(line: dict[str, Any]) -> tuple[Any, ...]:
    return line["reference"], line["channel"], line["shown"], line.get("begins", False)


def _key(station: Station | None) -> int | None:
    return None if station is None else station.pk
