"""What fits where: profile, model, and the firmware that a new cell needs."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

_PIECE = re.compile(r"\d+|[a-z]+")


@dataclass(frozen=True, slots=True)
class Fits:
    """What a part fits; an empty list of profiles or models does not restrict.

    title: its name; firmware: the oldest firmware that knows it, "" for any; way: how to get there.
    """

    title: str
    profiles: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    firmware: str = ""
    way: str = ""


def why_it_does_not_fit(fits: Fits, profile: str, model: str) -> str:
    """Return why a part is the wrong one for an analyzer, in one sentence; "" when it fits.

    profile: key of the service rules; model: as on the plate, compared without case and signs.
    """
    if fits.profiles and profile not in fits.profiles:
        return f"{fits.title} does not fit the profile {profile}; it is for {_listed(fits.profiles)}."
    if fits.models and _plain(model) not in {_plain(one) for one in fits.models}:
        return f"{fits.title} does not fit the model {model or 'without a name'}; it is for {_listed(fits.models)}."
    return ""


def firmware_enough(has: str, needs: str) -> bool | None:
    """Return whether firmware is at least what is needed; None where the analyzer's is not known.

    Compared piece by piece, numbers as numbers: 2.10 is newer than 2.9, 2.4 equals 2.4.0. A letter behind a number
    (2.4b) is newer than none. Source: common practice, no source.
    """
    if not needs.strip():
        return True
    have, want = _pieces(has), _pieces(needs)
    if not have or not want:
        return None
    for mine, theirs in zip_longest(have, want, fillvalue="0"):
        if mine == theirs:
            continue
        if mine.isdigit() and theirs.isdigit():
            if int(mine) != int(theirs):
                return int(mine) > int(theirs)
            continue
        return _rank(mine) > _rank(theirs)
    return True


def firmware_words(fits: Fits, has: str) -> str:
    """Return what is to be said about firmware before a part is fitted; "" where nothing is."""
    enough = firmware_enough(has, fits.firmware)
    if enough:
        return ""
    needs = f"{fits.title} needs firmware {fits.firmware} or later"
    way = f" The way there: {fits.way}" if fits.way else " How to get there is not written down; ask its supplier."
    if enough is None:
        return f"{needs}, and the analyzer's is not known. Read it first.{way}"
    return f"{needs}; the analyzer has {has}. Update it before the part is fitted.{way}"


def _rank(piece: str) -> tuple[int, str]:
    """A letter stands above 0 and below any other number, so that 2.4 < 2.4b < 2.4.1."""
    if piece.isdigit():
        return (0 if int(piece) == 0 else 2, piece)
    return (1, piece)


def _pieces(text: str) -> list[str]:
    return _PIECE.findall(text.lower().strip().removeprefix("v"))


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.lower())


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)
