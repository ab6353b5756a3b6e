"""What a person or a test does to the simulated analyzer, as lines of text: gas on, gas off, heat, draft, adjust."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from flueproof.simulate.errors import SimulationError, StepError
from flueproof.simulate.live.lines import line_of

if TYPE_CHECKING:
    from flueproof.simulate.live.analyzer import LiveAnalyzer

GRAMMAR: Final = (
    (
        "gas BOTTLE [FEED] [pinched]",
        "put a bottle of the demo's rack on; FEED: tip (usual), handle, hose, after-trap, instrument",
    ),
    ("gas off", "take the gas off: room air"),
    ("air", "the same"),
    ("temperature DEGC", "the probe into a source of heat"),
    ("draft PA", "a pressure on the draft port, suction negative"),
    ("adjust CHANNEL VALUE", "enter a value for what flows now"),
    ("zero", "let the unit set its zeros; refused while gas is on"),
    ("room-co PPM", "CO in the room's air"),
    ("bottles", "the bottles of the rack"),
    ("show", "one line now"),
    ("help", "these commands"),
)


def obey(analyzer: LiveAnalyzer, line: str) -> str:
    """Do what one line says; return `ok ...`, or `no: ...` with the reason. Case and spaces do not matter."""
    words = line.split()
    if not words:
        return "no: empty line; help names the commands"
    act = _ACTS.get(words[0].lower())
    if act is None:
        return f"no: {words[0]!r} is no command; help names the commands"
    try:
        return act(analyzer, words[1:])
    except SimulationError as error:
        return f"no: {error}"


def _gas(analyzer: LiveAnalyzer, words: list[str]) -> str:
    lower = [word.lower() for word in words]
    if lower == ["off"]:
        return _air(analyzer, [])
    pinched = lower[-1:] == ["pinched"]
    rest = lower[: len(lower) - pinched]
    if not 1 <= len(rest) <= 2:
        raise StepError("say which bottle: gas cyl-co-500 tip")
    feed = rest[1] if len(rest) == 2 else "instrument" if pinched else "tip"
    analyzer.gas_on(rest[0], feed, pinched=pinched)
    return f"ok {rest[0]} on at the {feed}{', inlet pinched' if pinched else ''}"


def _air(analyzer: LiveAnalyzer, words: list[str]) -> str:
    _none(words)
    analyzer.gas_off()
    return "ok room air"


def _temperature(analyzer: LiveAnalyzer, words: list[str]) -> str:
    value = _number(words)
    analyzer.temperature(value)
    return f"ok probe at {value:g} degC"


def _draft(analyzer: LiveAnalyzer, words: list[str]) -> str:
    value = _number(words)
    analyzer.draft(value)
    return f"ok draft {value:g} Pa"


def _adjust(analyzer: LiveAnalyzer, words: list[str]) -> str:
    if len(words) != 2:
        raise StepError("say channel and value: adjust co 502")
    value, channel = _number(words[1:]), words[0].lower()
    return (
        f"ok {channel} set to {value:g}"
        if analyzer.adjust(channel, value)
        else "no: the unit does not accept the value"
    )


def _zero(analyzer: LiveAnalyzer, words: list[str]) -> str:
    _none(words)
    return "ok zeros set" if analyzer.zero() else "no: gas is on; take it off before zeroing"


def _room_co(analyzer: LiveAnalyzer, words: list[str]) -> str:
    value = _number(words)
    analyzer.room_co(value)
    return f"ok {value:g} ppm CO in the room"


def _bottles(analyzer: LiveAnalyzer, words: list[str]) -> str:
    _none(words)
    return f"ok {' '.join(analyzer.bottles)}"


def _show(analyzer: LiveAnalyzer, words: list[str]) -> str:
    _none(words)
    return f"ok {line_of(analyzer.step(0.0))}"


def _help(analyzer: LiveAnalyzer, words: list[str]) -> str:
    del analyzer, words
    return f"ok {'; '.join(grammar for grammar, _ in GRAMMAR)}"


def _number(words: list[str]) -> float:
    try:
        value = float(words[0]) if len(words) == 1 else math.nan
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise StepError("one number is needed here")
    return value


def _none(words: list[str]) -> None:
    if words:
        raise StepError(f"nothing may follow here, got {words[0]!r}")


_ACTS: Final[dict[str, Callable[[LiveAnalyzer, list[str]], str]]] = {
    "gas": _gas,
    "air": _air,
    "temperature": _temperature,
    "draft": _draft,
    "adjust": _adjust,
    "zero": _zero,
    "room-co": _room_co,
    "bottles": _bottles,
    "show": _show,
    "help": _help,
}
