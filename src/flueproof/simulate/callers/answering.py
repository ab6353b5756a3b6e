"""How badly a caller answers: does not know, or says the wrong thing, at rates by kind of question."""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING, Any

import numpy as np

from flueproof.simulate.callers.facts import LISTS, MISTAKEN_FOR, WORDS, kind_of
from flueproof.simulate.callers.figures import figure, phrases
from flueproof.simulate.physics.display import on_step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

NEVER_HAD = {
    "second_probe": ("other_probe",),
    "second_hose": ("other_hose", "other_charger"),
    "bulb_at_hand": ("bulb_on_probe",),
}
"""What a caller can only try when there is a second one at hand, by the figure that says how often there is."""


def answers_of(right: Mapping[str, Any], seed: tuple[int, ...]) -> dict[str, Any]:
    """Return what the caller says, by question; questions answered "I don't know" are absent.

    right: the right answers; seed: of this call. Each question has its own chance, so that an answer does not hang on
    which other questions are asked or in which order, and asking twice changes nothing.
    Source: rates from figures.toml, our own assumptions; errors of different questions are taken as independent.
    """
    missing = _not_at_hand(seed)
    said: dict[str, Any] = {}
    for fact, value in right.items():
        chance = _chance(fact, seed)
        kind = kind_of(fact)
        if fact in missing or chance.uniform() < figure(f"does_not_know.{kind}"):
            continue
        said[fact] = wrong_answer(fact, value, chance) if chance.uniform() < figure(f"wrong.{kind}") else value
    return said


def _not_at_hand(seed: tuple[int, ...]) -> set[str]:
    return {
        fact
        for name, facts in NEVER_HAD.items()
        for fact in facts
        if _chance(name, seed).uniform() >= figure(f"shares.{name}")
    }


def _chance(name: str, seed: tuple[int, ...]) -> np.random.Generator:
    return np.random.default_rng([*seed, zlib.crc32(name.encode())])


def wrong_answer(fact: str, value: Any, chance: np.random.Generator) -> Any:
    """Return a wrong answer: another word, a list without one item, a figure off by a quarter.

    Source: own assumption.
    """
    if fact in LISTS:
        kept = list(value)
        if kept:
            kept.pop(int(chance.integers(len(kept))))
        return tuple(kept) or (("nothing",) if fact == "new_lately" else ())
    if fact in WORDS:
        others = MISTAKEN_FOR.get(fact, {}).get(value) or [word for word in WORDS[fact] if word != value]
        return others[int(chance.integers(len(others)))]
    if isinstance(value, str):
        return value
    spread = max(figure("misread.least"), figure("misread.spread") * abs(value))
    step = 0.01 if abs(value) < 2 and not float(value).is_integer() else 0.1 if abs(value) < 30 else 1.0
    return on_step(float(value) + spread * float(chance.standard_normal()), step)


def complaint_of(right: Mapping[str, Any], causes: tuple[str, ...], chance: np.random.Generator) -> str:
    """Return the caller's first words, after what strikes them most; sometimes vague, sometimes misspelt.

    causes: only tells whether somebody complains of the cold or of a bottle at all, never which words.
    Source: words.toml, our own words; shares from figures.toml.
    """
    noticed = "vague" if chance.uniform() < figure("shares.vague") else noticed_first(right, causes)
    words = phrases(noticed)
    text = words[int(chance.integers(len(words)))]
    return _misspelt(text, chance) if chance.uniform() < figure("shares.misspelt") else text


def _misspelt(text: str, chance: np.random.Generator) -> str:
    at = int(chance.integers(1, max(len(text) - 1, 2)))
    return text[:at] + text[at + 1 :]


def noticed_first(right: Mapping[str, Any], causes: tuple[str, ...]) -> str:
    """Return what strikes a caller first: a key of words.toml.

    Source: own order of what people call about: no start, noises and messages, then figures.
    """
    for noticed, strikes in _STRIKES.items():
        if strikes(right):
            return noticed
    if "cold-unit" in causes:
        return "cold"
    if "bad-bottle" in causes or right.get("bottle_shows", 1.0) < 0.9:
        return "bottle"
    return "disagree" if "o2_flue_other" in right else "vague"


def _number(right: Mapping[str, Any], fact: str, otherwise: float) -> float:
    value = right.get(fact, otherwise)
    return otherwise if isinstance(value, str) else float(value)


def _against(right: Mapping[str, Any], fact: str) -> float:
    other = right.get(f"{fact}_other")
    return 0.0 if other is None or fact not in right else float(right[fact]) - float(other)


_STRIKES: dict[str, Callable[[Mapping[str, Any]], bool]] = {
    "power": lambda r: r["start"] == "dark" or r.get("minutes_on_battery", 400) < 60,
    "start": lambda r: r["start"] in {"o2-error", "sometimes-passes"},
    "flow": lambda r: r["start"] == "flow-error" or r["flow_message"] in {"always", "only-with-probe"},
    "gurgles": lambda r: r["pump_sound"] == "gurgles",
    "stack-dashes": lambda r: r["stack_shown_c"] == "----",
    "reads-air": lambda r: _number(r, "o2_flue", 5.0) > 18.5,
    "climbs": lambda r: r["o2_course"] == "climbs",
    "erratic": lambda r: r["o2_course"] in {"jumps-when-moved", "jumps-with-pump"},
    "o2-air-low": lambda r: _number(r, "o2_fresh_air", 20.9) < 20.5,
    "o2-air-high": lambda r: _number(r, "o2_fresh_air", 20.9) > 21.1 or _number(r, "bottle_shows", 1.0) > 1.08,
    "no-jumps": lambda r: "no" in r["channels"],
    "stack-off": lambda r: "stack" in r["channels"],
    "draft": lambda r: "draft" in r["channels"],
    "efficiency": lambda r: "air" in r["channels"],
    "slow": lambda r: r["settle_s"] > 110,
    "co-negative": lambda r: _number(r, "co_fresh_air", 0.0) < -3,
    "co-zero": lambda r: _number(r, "co_fresh_air", 0.0) > 5 or (r["near"] == "vehicle"),
    "o2-high": lambda r: "o2" in r["channels"],
    "co-high": lambda r: r["near"] == "battery-charger" or _against(r, "co_flue") > 10,
    "co-low": lambda r: _against(r, "co_flue") < -8,
    "co2-differs": lambda r: "co2" in r["channels"],
}
