"""Repeats that contradict each other: no mean and no diagnosis rests on them until one is struck out."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence

from flueproof.analyzer.errors import NoLimitError
from flueproof.analyzer.profile import Channel, Profile
from flueproof.bench.bundle import Bundle
from flueproof.bench.judge.measured import Measured
from flueproof.bench.judge.points import PointGroup, edge_of, point_groups, repeatability_of
from flueproof.bench.judge.validity import Validity
from flueproof.bench.judgement import Note

CODE = "repeats-contradict"
LIMITS_APART = 3.0  # of the error limit: a leak that moves mostly stays below it; own choice
SIGMAS_APART = 5.0  # of what one application scatters; own choice


def without_contradictions(
    validity: Validity, measured: Sequence[Measured], profile: Profile, bundle: Bundle
) -> Validity:
    """Return the validity with all repeats of a test point unfit where two of them exclude each other.

    Source: own rule; JCGM 100:2008, 4.2 pools repeats of one quantity, and these are not of one.
    """
    notes: list[Note] = []
    apart: set[tuple[str, str]] = set()
    for group in point_groups([one for one in measured if validity.fit(one.step, one.channel)]):
        channel = profile.channels[group.first.channel]
        ends = _ends(group, channel)
        if ends is None or not _exclude_each_other(ends, group, channel, bundle):
            continue
        notes.append(_note(ends, group, channel))
        apart.update((one.step, one.channel) for one in group.members)
    if not notes:
        return validity
    return dataclasses.replace(
        validity,
        notes=(*validity.notes, *notes),
        unfit=validity.unfit | apart,
        apart=frozenset(apart),
    )


def _ends(group: PointGroup, channel: Channel) -> tuple[tuple[Measured, float], tuple[Measured, float]] | None:
    """Return the applications that showed least and most, with what they showed; None where there are not two."""
    shown = [
        (one, value)
        for one in group.members
        if (value := one.number if one.number is not None else edge_of(one, channel)) is not None
    ]
    if len(shown) < 2:
        return None
    return min(shown, key=lambda pair: pair[1]), max(shown, key=lambda pair: pair[1])


def _exclude_each_other(
    ends: Iterable[tuple[Measured, float]], group: PointGroup, channel: Channel, bundle: Bundle
) -> bool:
    (first, low), (last, high) = ends
    reference = group.first.reference
    if reference is None:
        return False
    try:
        limit = channel.limit_at(reference.value, group.first.phase).value
    except NoLimitError:
        return False
    scatter, _ = repeatability_of(channel, bundle, reference.value)
    parts = [scatter, scatter]
    for one in (first, last):
        parts += [part for part in (one.settled.u_settling, one.settled.u_noise) if math.isfinite(part)]
    return high - low > max(LIMITS_APART * limit, SIGMAS_APART * math.hypot(*parts))


def _note(ends: Iterable[tuple[Measured, float]], group: PointGroup, channel: Channel) -> Note:
    said = sorted(ends, key=lambda pair: pair[0].at)
    told = " and ".join(f"step {one.step} {value:.4g} {channel.unit}" for one, value in said)
    text = (
        f"{channel.title}: {told} on the same gas exclude each other, so neither is judged. Strike out the wrong one "
        "with its reason; when both were read right, find what moves, and measure again."
    )
    return Note("repeats-contradict", text, max(group.members, key=lambda one: one.at).step, blocks=True)
