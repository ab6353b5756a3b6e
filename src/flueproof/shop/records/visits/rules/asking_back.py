"""A value far from what is on the analyzer is asked back once: a slip of the pen is cheaper to mend now."""

from __future__ import annotations

from typing import Any, Final

from flueproof.analyzer.errors import NoLimitError, UnitError
from flueproof.analyzer.profile import Channel
from flueproof.analyzer.units import from_core, to_core

FAR_IN_LIMITS: Final = 1.5  # errors beyond so many limits are asked back; own choice
LEAST_SHARE: Final = 0.10  # of the reference value: nearer than this nothing is asked; own choice


def far_values(
    readings: list[dict[str, Any]], channel: Channel, reference: float, phase: str, on_what: str
) -> list[str]:
    """Return one question for each reading whose last number lies far from a reference [unit of the channel].

    readings: as in a step; those of other channels are passed over; on_what: "502 ppm bottle", "199.8 °C".
    Source: own rule.
    """
    asked = []
    for reading in readings:
        shown = [value for value in reading["shown"] if isinstance(value, int | float)]
        if reading["channel"] != channel.name or not shown:
            continue
        try:
            value = float(to_core(float(shown[-1]), reading["unit"], channel.unit))
            limit = channel.limit_at(reference, phase).value
        except (UnitError, NoLimitError):
            continue
        if abs(value - reference) > max(FAR_IN_LIMITS * limit, LEAST_SHARE * abs(reference)):
            asked.append(
                f"{channel.title}: {shown[-1]:g} {reading['unit']} on a {on_what}: is that what the display shows?"
            )
    return asked


def in_shown_unit(reference: float, unit: str, channel: Channel) -> str:
    """Return a reference value [unit of the channel] as text in the unit that a display shows it in."""
    try:
        return f"{float(from_core(reference, unit, channel.unit)):.4g} {unit}"
    except UnitError:
        return f"{reference:.4g} {channel.unit}"
