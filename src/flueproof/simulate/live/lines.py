"""The lines that the simulated analyzer prints: a format of our own, and the pattern that reads it back."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from flueproof.simulate.live.analyzer import LiveReading
    from flueproof.simulate.physics.display import Display

LABELS: Final = {
    "o2": "O2",
    "co": "CO",
    "no": "NO",
    "co2": "CO2",
    "co_high": "COH",
    "stack": "T",
    "air": "TA",
    "draft": "P",
}
UNITS: Final = {"degF": "F", "degC": "C"}
GREETING: Final = "# Flueproof simulated analyzer: no instrument, no gas, no measurement"


def line_of(readings: Iterable[LiveReading]) -> str:
    """Return one line, `O2=20.9 % CO=0 ppm T=72 F`: label, `=`, what is shown, a space and the unit, per channel."""
    return " ".join(f"{_label(one.channel)}={_shown(one)} {UNITS.get(one.unit, one.unit)}" for one in readings)


def pattern_text(displays: Mapping[str, Display], title: str) -> str:
    """Return the pattern file, for `flueproof capture`, of the lines of an analyzer with these displays."""
    parts = [
        f"{re.escape(_label(name))}=(?P<{name}>\\S+) {re.escape(UNITS.get(one.unit, one.unit))}"
        for name, one in displays.items()
    ]
    channels = [
        f"[channels.{name}]\nunit = {json.dumps(one.unit)}\nstep = {one.step:g}\n" for name, one in displays.items()
    ]
    head = (
        'format = "flueproof-capture-pattern/1"',
        f"title = {json.dumps(title)}",
        'source = "our own line format, see the page on capture"',
        "ignore = ['#.*']",
        "",
        "[[line]]",
        f"pattern = '{' '.join(parts)}'",
        "",
    )
    return "\n".join((*head, *channels))


def _label(channel: str) -> str:
    return LABELS.get(channel, channel.upper())


def _shown(reading: LiveReading) -> str:
    if isinstance(reading.shown, str):
        return reading.shown
    digits = max(0, -math.floor(math.log10(reading.step) + 1e-9))
    return f"{reading.shown:.{digits}f}"
