"""A loan unit on gas: what it shows on a bottle of the rack, judged by the core within the limits of its profile."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from flueproof.analyzer.errors import NoLimitError
from flueproof.analyzer.profile import Channel
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.gas.admitting import condition_of, find_by_code
from flueproof.shop.records.gas.control import LooksError, channels_for, control_line, read_looks
from flueproof.shop.records.gas.litres import litres_of_a_test, record_use
from flueproof.shop.records.models import LoanUnit, Reference

ONE_CHECK: Final = timedelta(minutes=30)  # own choice: a form that is corrected comes back sooner
_LONGEST_WHAT: Final = 120


class GasCheckError(ValueError):
    """Readings that make no check: what is wrong and what to do; `field` is `bottle` or a channel's name."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


def bottles_for(unit: LoanUnit, now: datetime) -> list[Reference]:
    """Return the bottles in use that may be connected today and say something about a channel of the unit."""
    profile = shipped_profile(unit.analyzer.profile)
    day = timezone.localtime(now).date()
    rows = Reference.objects.filter(kind="test-gas", state="in-use").order_by("code")
    return [one for one in rows if channels_for(one, profile) and not condition_of(one, day)]


def channels_on(unit: LoanUnit, bottle: Reference) -> list[Channel]:
    """Return the channels of the unit that a bottle speaks to."""
    return channels_for(bottle, shipped_profile(unit.analyzer.profile))


def check_on_gas(unit: LoanUnit, code: str, typed: Mapping[str, str], now: datetime) -> dict[str, Any]:
    """Return the check as it is kept with the loan: bottle, a line per channel, whether the unit is in order.

    code: of the bottle as scanned; typed: channel name -> what the settled display showed. Every channel that the
    bottle speaks to is read; simple acceptance, limits of the profile as after adjustment.
    Raises: GasCheckError.
    """
    bottle = find_by_code(code)
    if bottle is None:
        raise GasCheckError("bottle", f"No bottle has the code {code.strip()!r}. Scan its label.")
    if said := condition_of(bottle, timezone.localtime(now).date()):
        raise GasCheckError("bottle", said)
    channels = channels_on(unit, bottle)
    if not channels:
        raise GasCheckError("bottle", f"{bottle.code} says nothing about what this unit measures. Take another.")
    lines = [_line(unit, bottle, channel, typed.get(channel.name, ""), now) for channel in channels]
    return {
        "bottle": bottle.code,
        "at": now.isoformat(timespec="seconds"),
        "lines": lines,
        "good": all(line["statement"] == "conform" for line in lines),
    }


def check_and_book(unit: LoanUnit, code: str, typed: Mapping[str, str], now: datetime) -> dict[str, Any]:
    """Check a unit on gas as check_on_gas does, and book what that took from the bottle, whatever came of it.

    The same looks on the same bottle sent again soon after are one check: somebody corrected another field.
    Raises: GasCheckError; nothing is booked then, since the looks are typed once more.
    """
    kept = check_on_gas(unit, code, typed, now)
    looks = ", ".join(f"{line['channel']} {_shown(line)}" for line in kept["lines"])
    what = f"loan check of {unit.name}: {looks}"[:_LONGEST_WHAT]
    with transaction.atomic():
        bottle = Reference.objects.select_for_update().get(code=kept["bottle"])
        if not bottle.uses.filter(what=what, at__gt=now - ONE_CHECK).exists():
            record_use(bottle, litres_of_a_test(bottle), now, what=what)
    return kept


def in_words(kept: Mapping[str, Any]) -> str:
    """Return a kept check in one sentence."""
    if not kept.get("lines"):
        return "not checked on gas"
    said = "; ".join(
        f"{line['title']} {_shown(line)} at {line['reference_value']:g} {line['unit']}, limit ±{line['limit']:.3g}"
        for line in kept["lines"]
    )
    return f"{'in order' if kept.get('good') else 'NOT in order'} on {kept.get('bottle', '')}: {said}"


def _shown(line: Mapping[str, Any]) -> str:
    return " ".join(f"{one:g}" if isinstance(one, int | float) else str(one) for one in line["shown"])


def _line(unit: LoanUnit, bottle: Reference, channel: Channel, typed: str, now: datetime) -> dict[str, Any]:
    try:
        return control_line(unit.analyzer, bottle, channel, read_looks(typed), now).as_json()
    except (LooksError, NoLimitError) as error:
        raise GasCheckError(channel.name, str(error)) from None
