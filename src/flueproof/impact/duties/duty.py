"""What a judgement obliges the shop to do: whom to tell of what, how soon, and whether the unit must not be used."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from flueproof.bench.judgement import CheckResult, Judgement, PointJudgement
from flueproof.impact.duties.sizes import Size, Units, air_free_size, point_size, sizes_by_channel
from flueproof.impact.found.field_errors import FieldErrors

CO_CHANNELS = frozenset({"co", "co_high"})
LEAKS = frozenset({"probe", "instrument", "unlocated"})
LEAK_WORDS = {
    "probe": "Room air leaked in through the probe, hose or trap.",
    "instrument": "Room air leaked in inside the instrument.",
    "unlocated": "Room air leaked in somewhere on the way of the sample.",
    "cannot-tell": "Whether room air leaked in or the oxygen cell's zero was off could not be told.",
}
LEAK_MEANS = (
    "A leak makes CO read low and O2 read high. CO air-free stays as it is, because both are thinned alike; excess air "
    "and efficiency do not."
)


@dataclass(frozen=True, slots=True)
class Duty:
    """One thing the owner must be told.

    kind: `co-low` or `as-found`; same_day: call on the day it was found; do_not_use: the unit carries a tag, since what
    was found has not been made good; headline, why: for people; sizes: what was found by channel; further: other
    findings in words.
    """

    kind: str
    same_day: bool
    do_not_use: bool
    headline: str
    why: str
    sizes: tuple[Size, ...]
    further: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """Return plain JSON values: the facts of a duty as they are kept."""
        return {
            "kind": self.kind,
            "same_day": self.same_day,
            "do_not_use": self.do_not_use,
            "headline": self.headline,
            "why": self.why,
            "sizes": [size.as_dict() for size in self.sizes],
            "further": list(self.further),
        }


def duty_of(judgement: Judgement, errors: FieldErrors | None, units: Units = "us") -> Duty | None:
    """Return the duty that follows from what was found, None where everything was inside its limits as found.

    errors: from the same record, None where they could not be had. ISO/IEC 17025:2017, 7.10: the customer is told of
    nonconforming work and of what it does to earlier results; second-hand. CO that reads low stands above everything:
    people rely on it.
    """
    failed = failed_points(judgement)
    checks = [check for check in judgement.checks if check.phase == "as-found" and check.ok is False]
    leak = str(judgement.gas_path.get("leak", ""))
    has_leak = judgement.as_found is not None and leak in LEAKS
    if not failed and not checks and not has_leak:
        return None
    low = [point for point in failed if reads_low(point)]
    open_leak = has_leak or (leak == "cannot-tell" and any(point.channel in {"o2", "co"} for point in failed))
    sizes = _sizes(failed, errors, units, has_leak=open_leak)
    further = _further(checks, leak if open_leak else "")
    if low:
        open_still = bool(not_mended(judgement, low))
        headline = "CO does not read" if all(not math.isfinite(point.error) for point in low) else "CO read too low"
        return Duty(
            "co-low", True, open_still, headline,
            "Places may have been called safe that were not: call the owner today, before any letter.",
            sizes, further,
        )  # fmt: skip
    return Duty(
        "as-found", False, False, _headline(failed, leak if has_leak else ""),
        "The owner relied on this analyzer since its last good check: tell the owner what was found.",
        sizes, further,
    )  # fmt: skip


def failed_points(judgement: Judgement) -> tuple[PointJudgement, ...]:
    """Return the counting points that were not conform as found."""
    return tuple(
        point
        for point in judgement.points
        if point.phase == "as-found" and point.counts and point.statement == "not-conform"
    )


def reads_low(point: PointJudgement) -> bool:
    """Return whether a failed CO point lies on the dangerous side: too low, or no reading at all."""
    return point.channel in CO_CHANNELS and (not math.isfinite(point.error) or point.error < 0.0)


def not_mended(judgement: Judgement, low: Sequence[PointJudgement]) -> tuple[PointJudgement, ...]:
    """Return the low points whose channel has not been shown right again as left."""
    after: dict[str, list[str]] = {}
    for point in judgement.points:
        if point.phase == "as-left" and point.counts:
            after.setdefault(point.channel, []).append(point.statement)
    return tuple(point for point in low if not after.get(point.channel) or set(after[point.channel]) != {"conform"})


def _sizes(
    failed: Sequence[PointJudgement], errors: FieldErrors | None, units: Units, *, has_leak: bool
) -> tuple[Size, ...]:
    by_line = sizes_by_channel(errors) if errors is not None else {}
    channels = list(dict.fromkeys(point.channel for point in failed))
    if has_leak:
        channels += [name for name in ("co", "o2") if name not in channels]
    channels.sort(key=lambda name: (name not in CO_CHANNELS, name))
    sizes = []
    for channel in channels:
        if channel in by_line:
            sizes.append(by_line[channel])
            continue
        own = [point for point in failed if point.channel == channel]
        if own:
            sizes.append(point_size(max(own, key=_excess), units))
    if errors is not None and {"co", "o2"} <= set(by_line) and not {"co", "o2"}.isdisjoint(channels):
        known = all(by_line[name].direction != "no-reading" for name in ("co", "o2"))
        sizes += [air_free_size(errors)] if known else []
    return tuple(sizes)


def _excess(point: PointJudgement) -> float:
    return abs(point.error) / point.limit if math.isfinite(point.error) else math.inf


def _further(checks: Sequence[CheckResult], leak: str) -> tuple[str, ...]:
    said: tuple[str, ...] = (LEAK_WORDS[leak],) if leak else ()
    said += (LEAK_MEANS,) if leak in LEAKS else ()
    return said + tuple(check.text for check in checks)


def _headline(failed: Sequence[PointJudgement], leak: str) -> str:
    channels = list(dict.fromkeys(point.channel for point in failed))
    if leak and not [name for name in channels if name not in {"o2", "co"}]:
        return "A leak: O2 read too high and CO too low"
    names = ", ".join(name.replace("_", " ") if len(name) > 3 else name.upper() for name in channels)
    return f"found outside its limits: {names}" if names else "found outside what its model asks for"
