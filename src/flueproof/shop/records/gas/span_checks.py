"""A new bottle beside the old one on the control analyzer: only when they agree does the new one judge anything."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db import transaction

from flueproof.analyzer.profile import Channel
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.gathering import gas_reference
from flueproof.shop.records.gas.admitting import condition_of
from flueproof.shop.records.gas.as_certified import test_gas_of
from flueproof.shop.records.gas.control import ControlLine, channels_for, control_line
from flueproof.shop.records.models import Analyzer, Person, Reference, SpanCheck
from flueproof.testgas.span.factor import Agreement, agreement, alike

_SAME_PRESS: Final = timedelta(minutes=10)


class CheckRefusedError(ValueError):
    """A check that cannot be made: why, and what to do."""


@dataclass(frozen=True, slots=True)
class Looks:
    """What the control analyzer showed on one channel: on the new bottle, and on the old one where there is one."""

    channel: str
    on_new: list[float | str]
    on_old: list[float | str]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a check said: the rows kept, whether the bottle passes, and why or why not in words."""

    rows: list[SpanCheck]
    passed: bool
    in_words: str


def old_bottles(new: Reference, day: date) -> list[Reference]:
    """Return the bottles in use that a new one can be compared with: in date, alike in at least one certified gas."""
    return [
        old
        for old in Reference.objects.filter(kind="test-gas", state="in-use").exclude(pk=new.pk).order_by("code")
        if not condition_of(old, day) and _alike(new, old)
    ]


def _alike(new: Reference, old: Reference) -> bool:
    ours, theirs = test_gas_of(new), test_gas_of(old)
    if ours is None or theirs is None:
        return False
    for name, part in ours.components.items():
        other = next((one for key, one in theirs.components.items() if key == name), None)
        if other is None or part.percent <= 0.0:
            continue
        if alike(part.percent, other.percent):
            return True
    return False


def channels_to_compare(new: Reference, old: Reference | None, analyzer: Analyzer) -> list[Channel]:
    """Return the channels of a control analyzer to be read: with an old bottle those that both are certified for."""
    profile = shipped_profile(analyzer.profile)
    own = channels_for(new, profile)
    if old is None:
        return own
    gas = test_gas_of(old)
    both = []
    for channel in own:
        part = gas_reference(gas, old.code, channel) if gas is not None else None
        if part is not None and (not part.implied or channel.set_in_air is not None):
            both.append(channel)
    return both


def check_new_bottle(
    new: Reference, old: Reference | None, analyzer: Analyzer, looks: list[Looks], by: Person, now: datetime, day: date
) -> Outcome:
    """Compare a new bottle with the old one, keep a row a channel, and bring it into use when all agree.

    Without an old one of its kind it is held against the control analyzer's own limits, and that is said.
    Raises: CheckRefusedError, LooksError, SpanFactorError; nothing is written then.
    """
    with transaction.atomic():
        row: Reference = Reference.objects.select_for_update().get(pk=new.pk)
        _refuse(row, old, analyzer, looks, day)
        channels = {one.name: one for one in channels_to_compare(row, old, analyzer)}
        missing = set(channels) - {one.channel for one in looks}
        if missing or not channels:
            raise CheckRefusedError(f"These channels are not read yet: {', '.join(sorted(missing)) or 'all'}.")
        if (first := _pressed_before(row, old, analyzer, looks, by, now)) is not None:
            return first
        judged = [_compare(row, old, analyzer, channels[one.channel], one, now) for one in looks]
        rows = [_keep(row, old, analyzer, one, by, now) for one in judged]
        passed = all(one.passed for one in judged)
        if passed:
            row.state = "in-use"
            row._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
            row.save()
    return Outcome(rows, passed, " ".join(one.in_words for one in judged))


def _pressed_before(
    new: Reference, old: Reference | None, analyzer: Analyzer, looks: list[Looks], by: Person, now: datetime
) -> Outcome | None:
    """Return what the same person's same looks said a moment ago: a second press keeps nothing twice."""
    recent = new.span_checks.filter(analyzer=analyzer, compared_with=old, by=by, at__gte=now - _SAME_PRESS)
    last: dict[str, SpanCheck] = {row.channel: row for row in recent.order_by("id")}
    if not all(_holds(last.get(one.channel), one) for one in looks):
        return None
    rows = [last[one.channel] for one in looks]
    return Outcome(rows, all(row.passed for row in rows), " ".join(row.detail["in_words"] for row in rows))


def _holds(row: SpanCheck | None, looks: Looks) -> bool:
    if row is None or row.detail["new"]["shown"] != looks.on_new:
        return False
    old = row.detail["old"]
    return bool((old["shown"] if old is not None else []) == looks.on_old)


def _refuse(new: Reference, old: Reference | None, analyzer: Analyzer, looks: list[Looks], day: date) -> None:
    if new.kind != "test-gas" or new.state != "new":
        raise CheckRefusedError(f"{new.code} is not a new bottle; it is {new.get_state_display()}.")
    if not analyzer.control_unit:
        raise CheckRefusedError(f"{analyzer} is not a control analyzer of the shop.")
    if not looks:
        raise CheckRefusedError("Nothing was read.")
    if old is None and (alike := old_bottles(new, day)):
        raise CheckRefusedError(f"There is an old bottle to compare with: {alike[0].code}. Read it too.")
    if old is not None and (said := condition_of(old, day)):
        raise CheckRefusedError(said)


@dataclass(frozen=True, slots=True)
class _Compared:
    on_new: ControlLine
    on_old: ControlLine | None
    agreement: Agreement | None
    passed: bool
    in_words: str


def _compare(
    new: Reference, old: Reference | None, analyzer: Analyzer, channel: Channel, looks: Looks, now: datetime
) -> _Compared:
    on_new = control_line(analyzer, new, channel, looks.on_new, now)
    on_old = control_line(analyzer, old, channel, looks.on_old, now) if old is not None else None
    ours, theirs = on_new.factor(), on_old.factor() if on_old is not None else None
    if ours is not None and theirs is not None and alike(ours.certificate, theirs.certificate):
        found = agreement(ours, theirs)
        return _Compared(on_new, on_old, found, found.agrees, f"{channel.title}: {found.in_words}")
    passed = on_new.statement == "conform"
    return _Compared(on_new, on_old, None, passed, _alone_in_words(on_new, channel, compared=on_old is not None))


def _alone_in_words(line: ControlLine, channel: Channel, *, compared: bool) -> str:
    shown = "no number" if line.settled is None else f"{line.settled:.4g} {line.unit}"
    verdict = "inside" if line.statement == "conform" else "not surely inside"
    why = "here the old bottle cannot be compared" if compared else "there is no old bottle like it to compare with"
    return (
        f"{channel.title}: shows {shown} for {line.reference_value:g} {line.unit}, {verdict} the control analyzer's "
        f"limit of {line.limit:.3g} {line.unit}; {why}."
    )


def _keep(
    new: Reference, old: Reference | None, analyzer: Analyzer, found: _Compared, by: Person, now: datetime
) -> SpanCheck:
    detail: dict[str, Any] = {
        "new": found.on_new.as_json(),
        "old": found.on_old.as_json() if found.on_old is not None else None,
        "in_words": found.in_words,
    }
    if found.agreement is not None:
        detail["score"] = found.agreement.score
        detail["difference"], detail["u_difference"] = found.agreement.difference, found.agreement.u
    factor = found.on_new.factor()
    return SpanCheck.objects.create(
        reference=new,
        compared_with=old,
        analyzer=analyzer,
        channel=found.on_new.channel,
        span_factor=factor.value if factor is not None else 0.0,
        u=factor.u if factor is not None else 0.0,
        passed=found.passed,
        detail=detail,
        at=now,
        by=by,
    )
