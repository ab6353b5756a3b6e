"""Make and model as read off a plate, against those on file."""

from __future__ import annotations

import re
from collections.abc import Mapping

from rapidfuzz import fuzz

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import plain

_ALIKE = 80.0
_NOVEL = 0.01


def make_model_likeness(clues: Clues, make: str, model: str, assumed: Assumptions) -> float:
    """Return P(make and model read | make and model of the plate); 1 where nothing was read."""
    total = 1.0
    same_make = not clues.make or _same_make(clues.make, make)
    if clues.make:
        total *= assumed.make_right if same_make else (1.0 - assumed.make_right) / 8.0
    if clues.model:
        read, true = _squeezed(clues.model), _squeezed(model)
        wrong = 1.0 - assumed.model_right - assumed.model_begun
        if read == true:
            total *= assumed.model_right
        elif true.startswith(read) and len(read) > 1:
            total *= assumed.model_begun
        else:
            near = fuzz.ratio(read, true) >= _ALIKE
            total *= wrong / 3.0 if near or (clues.make and same_make) else wrong / 30.0
    return total


def background_of(likeness: Mapping[tuple[str, str], float], models: Mapping[tuple[str, str], int]) -> float:
    """Return P(make and model read) for a plate never seen: as on file, or of a make or model that never came."""
    total = sum(models.values())
    known = sum(count * likeness[plate] for plate, count in models.items()) / total if total else 0.0
    return (1.0 - _NOVEL) * known + _NOVEL * 0.1


def _same_make(read: str, make: str) -> bool:
    read, make = _squeezed(read), _squeezed(make)
    return bool(make) and (make.startswith(read) or fuzz.ratio(read, make) >= _ALIKE)


def _squeezed(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", plain(text).lower())
