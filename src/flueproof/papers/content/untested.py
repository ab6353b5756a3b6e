"""What was not tested: what a whole verification needs, and what is optional, in words that are never a result."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from flueproof.papers.content.wording import on_paper

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile

_PATH_KINDS: Final = frozenset({"plug-test", "bulb-test", "vacuum-hold"})
_TIGHTNESS: Final = "Tightness of the gas path"
_QUESTION: Final = re.compile(r": (?:is|are|does|do|has) ")


def untested_name(title: str, profile: Profile | None) -> str:
    """Return what an untested point is called: never a title such as "gas path tight" that reads like its result.

    Source: own rule.
    """
    points = profile.points if profile is not None else ()
    return _TIGHTNESS if any(p.title == title and p.kind in _PATH_KINDS for p in points) else title


def not_tested_lines(not_tested: tuple[str, ...], profile: Profile) -> list[str]:
    """Return the sentences under "Not tested": first what a whole verification needs, then the optional points.

    Source: ISO/IEC 17025:2017, 7.8.2.1 n (exclusions), second-hand.
    """
    optional = {point.title for point in profile.points if not point.required}
    needed = [_ended(untested_name(text, profile)) for text in not_tested if text not in optional]
    extra = [untested_name(text, profile) for text in not_tested if text in optional]
    return needed + ([_ended("Optional in this profile: " + "; ".join(extra))] if extra else [])


def _ended(text: str) -> str:
    said = on_paper(text)
    if said.endswith((".", "!", "?", "\u2026")):
        return said
    return said + ("?" if _QUESTION.search(said.rpartition(";")[2]) else ".")


def lacking(not_tested: tuple[str, ...], profile: Profile | None) -> tuple[str, ...]:
    """Return what was missing to be whole: parts that did not come and required points, without optional points.

    Points on the probe itself go with a probe that did not come.
    Source: own rule.
    """
    points = {point.title: point for point in profile.points} if profile is not None else {}
    parts = [text for text in not_tested if text not in points]
    no_probe = any(text.lower().startswith("probe") for text in parts)
    required = [
        text
        for text in not_tested
        if text in points and points[text].required and not (no_probe and points[text].of == "probe")
    ]
    return tuple(untested_name(text, profile) for text in parts + required)
