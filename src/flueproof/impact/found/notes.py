"""What people must know beside the corrected numbers: what was not tested, what stays open, what is assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flueproof.bench.verdict.situation import Situation
from flueproof.impact.found.field_errors import ChannelFinding, Hypothesis

SAME_FOR_BOTH = (
    "Whether room air leaks in or the oxygen cell's zero is off could not be told. Both act on a reading through the "
    "same path in the same way, so the corrected values hold for either."
)
FIELD_ZERO = (
    "The analyzer takes its CO zero anew at every switch-on. Carbon monoxide in the air at that moment makes all later "
    "readings too low by as much; no bench can see that afterwards."
)


def notes_of(
    situation: Situation,
    findings: Mapping[str, ChannelFinding],
    feed: str | None,
    room_co_ppm: float | None,
    hypotheses: Sequence[Hypothesis],
) -> tuple[str, ...]:
    """Return the remarks that belong to corrected values, most important first."""
    notes = [finding.words for finding in findings.values() if finding.words and _matters(finding)]
    if feed is None:
        notes.append("No gas was put on as found: gas readings stand uncorrected within the limits of the model.")
    elif feed != "tip":
        notes.append(
            f"Gas went in at the {feed} and not at the probe tip: a leak before that place is not in these values. "
            "A leak makes CO read low and O2 high and leaves CO air-free as it is."
        )
    if len(hypotheses) > 1:
        both = " and ".join(one.words for one in hypotheses)
        notes.append(f"What was measured leaves two explanations open ({both}): the wider answer is given.")
    elif situation.path.finding.leak == "cannot-tell":
        notes.append(SAME_FOR_BOTH)
    co = situation.profile.channels.get("co")
    if co is not None and co.zeroed_in_air:
        notes.append(FIELD_ZERO)
        if room_co_ppm is None:
            notes.append("CO in the air of the bench was not logged: the CO zero is known less well.")
    return tuple(notes)


def _matters(finding: ChannelFinding) -> bool:
    return finding.state != "not-tested" or "was not tested" in finding.words
