"""The steps of a request: their names, their order, where one is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.urls import reverse

from flueproof.shop.records.models import ServiceRequest

STEPS: Final = {
    "who": "Who asks",
    "analyzers": "Which analyzers",
    "wrong": "What is wrong",
    "wanted": "What is wanted",
    "box": "What is in the box",
    "check": "Check and send",
}
_NAMES: Final = list(STEPS)


@dataclass(frozen=True, slots=True)
class PathStep:
    """One step; address: "" where one has not come yet."""

    number: int
    title: str
    address: str
    here: bool
    done: bool


def path_of(request: ServiceRequest | None, secret: str, here: str) -> list[PathStep]:
    """Return the path of a draft: what lies behind can be gone back to."""
    reached = request.step if request else 1
    return [
        PathStep(
            number,
            STEPS[name],
            reverse("requests:step", args=[secret, name]) if request and number <= reached else "",
            name == here,
            number < reached and name != here,
        )
        for number, name in enumerate(_NAMES, 1)
    ]


def number_of(name: str) -> int:
    """Return the number of a step, from 1."""
    return _NAMES.index(name) + 1


def name_of(number: int) -> str:
    """Return the name of a step by its number; the last one for a number beyond."""
    return _NAMES[min(max(number, 1), len(_NAMES)) - 1]


def after(name: str) -> str:
    """Return the step after this one; the last one stays."""
    return name_of(number_of(name) + 1)


def before(name: str) -> str:
    """Return the step before this one, "" for the first."""
    return name_of(number_of(name) - 1) if number_of(name) > 1 else ""
