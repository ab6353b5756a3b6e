"""Which paper an outcome has and what it is called: nothing that could pass for a pass on a unit that is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from flueproof.papers.content.untested import lacking
from flueproof.papers.content.work_done import was_adjusted, was_repaired

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement, PointJudgement, Verdict
    from flueproof.bench.record.record import Record

SIGNED_OUTCOMES: Final = frozenset({"ready-to-sign", "outside-as-ordered", "limited"})
OUTSIDE: Final = "OUTSIDE LIMITS"
CO_CHANNELS: Final = frozenset({"co", "co_high"})
_REPORT_HEADLINES: Final = {
    "work-needed": "Work is needed before this analyzer can be certified.",
    "incomplete": "The tests are not complete; no statement about the analyzer as a whole.",
    "not-worth-repair": "Repair is not worth its cost in our judgement; the owner decides.",
    "beyond-our-access": "What is needed lies beyond what this shop can reach on this analyzer.",
}


@dataclass(frozen=True, slots=True)
class PaperKind:
    """What is printed for a judgement.

    certificate: whether a certificate with number and sticker is due, or a bench report without either;
    title: the paper's title; headline: the verdict in one sentence; sticker: what the sticker says beside the date,
    None where there is no sticker.
    """

    certificate: bool
    title: str
    headline: str
    sticker: str | None


def verdict_of(judgement: Judgement) -> Verdict | None:
    """Return the verdict that stands: as left where there is one, otherwise as found.

    Source: own rule.
    """
    return judgement.as_left if judgement.as_left is not None else judgement.as_found


def paper_kind(record: Record, judgement: Judgement, profile: Profile | None = None) -> PaperKind:
    """Return the paper that belongs to a judgement; with the profile, a limited title names only what it requires.

    Source: own rule; ISO/IEC 17025:2017, 7.8.2.1 a (title), second-hand.
    """
    verdict = verdict_of(judgement)
    outcome = verdict.outcome if verdict else "incomplete"
    blocked = any(note.blocks for note in judgement.notes)
    if verdict is None or outcome not in SIGNED_OUTCOMES or not verdict.signable or blocked:
        headline = _REPORT_HEADLINES.get(outcome, "This record cannot be signed as it stands; the notes say why.")
        return PaperKind(certificate=False, title="Bench report: no certificate", headline=headline, sticker=None)
    if outcome == "outside-as-ordered":
        title = "Verification report: outside limits, returned as ordered"
        return PaperKind(True, title, "Outside the limits at one or more points; returned unadjusted, as ordered.",
                         OUTSIDE)  # fmt: skip
    if outcome == "limited":
        missing = named(lacking(judgement.not_tested, profile))
        title = f"Limited verification: {missing} not tested" if missing else "Limited verification"
        return PaperKind(True, title, "Conforms at the points tested; what the title names was not tested.", "LIMITED")
    if judgement.as_left is None:
        return PaperKind(True, "Verification certificate", "Conforms at all points tested.", "VERIFIED")
    headline = "As left: conforms at all points tested."
    if was_adjusted(record):
        return PaperKind(True, "Calibration certificate (verification and adjustment)", headline, "CALIBRATED")
    title = "Verification certificate after repair" if was_repaired(record) else "Verification certificate"
    return PaperKind(True, title, headline, "VERIFIED")


def _in_sentence(text: str) -> str:
    return text[0].lower() + text[1:] if text[1:2].islower() else text


def named(not_tested: tuple[str, ...], most: int = 3) -> str:
    """Return the untested parts as a phrase for the title: "probe path and NO filter", "... and 2 more".

    Source: common practice, no source.
    """
    short = [text.split(":")[0].split(" (")[0].strip().rstrip(".") for text in not_tested]
    short = [_in_sentence(text.removesuffix(" not tested").strip()) for text in short if text]
    short = [text.replace(", ", " ") if len(short) > 1 else text for text in short]
    if len(short) > most:
        return ", ".join(short[: most - 1]) + f" and {len(short) - most + 1} more"
    return " and ".join([", ".join(short[:-1]), short[-1]] if len(short) > 1 else short)


def reads_low(point: PointJudgement) -> bool:
    """Return whether a CO point lies outside its limit on the dangerous side: too low, or no reading at all.

    Source: own rule.
    """
    bad = point.channel in CO_CHANNELS and point.counts and point.statement == "not-conform"
    return bad and (not math.isfinite(point.error) or point.error < 0)


def do_not_use(judgement: Judgement) -> tuple[PointJudgement, ...]:
    """Return the CO points that call for a do-not-use tag: low as found and not made good, or low as left.

    A channel is good again only when its latest as-left points all conform.
    Source: own rule.
    """
    left = [point for point in judgement.points if point.phase == "as-left" and reads_low(point)]
    low = [point for point in judgement.points if point.phase == "as-found" and reads_low(point)]
    mended = set()
    for channel in {point.channel for point in low}:
        after = [p for p in judgement.points if p.phase == "as-left" and p.channel == channel and p.counts]
        if after and all(point.statement == "conform" for point in after):
            mended.add(channel)
    return (*left, *(point for point in low if point.channel not in mended))
