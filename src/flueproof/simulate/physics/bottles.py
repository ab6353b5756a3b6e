"""What is truly in a bottle: drawn once per record from what its certificate states."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from flueproof.simulate.errors import StepError

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np

AIR_O2_PCT = 20.9
"""O2 in dry room air as the units set it [% O2] (team's reference sheet, section 0: US constant)."""


def draw_bottle(reference: Mapping[str, Any], generator: np.random.Generator) -> dict[str, float]:
    """Return the true content of one bottle [unit of each component].

    reference: a test gas as bench-record.md writes it. `expanded_uncertainty` with `k` is drawn normal with U/k,
    `stated_accuracy_pct` rectangular with that per cent of the value as half width.
    Raises: StepError when a component states neither.
    Source: JCGM 101:2008, 6.4.2 (rectangular) and 6.4.7 (normal), clause numbers from memory.
    """
    content: dict[str, float] = {}
    for gas, component in reference["components"].items():
        value = float(component["value"])
        if "expanded_uncertainty" in component:
            spread = float(component["expanded_uncertainty"]) / float(component.get("k", 2.0))
            drawn = value + spread * float(generator.standard_normal())
        elif "stated_accuracy_pct" in component:
            half_width = value * float(component["stated_accuracy_pct"]) / 100.0
            drawn = value + half_width * float(generator.uniform(-1.0, 1.0))
        else:
            raise StepError(f"{gas}: state expanded_uncertainty and k, or stated_accuracy_pct")
        content[gas] = max(drawn, 0.0)
    if "o2" not in content and str(reference.get("balance", "nitrogen")) == "air":
        content["o2"] = AIR_O2_PCT
    return content


def draw_instrument_error(reference: Mapping[str, Any], generator: np.random.Generator) -> float:
    """Return by how much a thermometer or manometer misstates, the same all day [unit of the reference].

    Source: JCGM 101:2008, 6.4.7 (normal with U/k), clause number from memory.
    """
    spread = float(reference["expanded_uncertainty"]) / float(reference.get("k", 2.0))
    return spread * float(generator.standard_normal())


def draw_source_error(reference: Mapping[str, Any], generator: np.random.Generator) -> float:
    """Return by how much the source of heat differs from its thermometer at one setting [unit of the reference].

    Source: bench-record.md, "References": `source_u` is a standard uncertainty; normal by common practice, no source.
    """
    return float(reference.get("source_u", 0.0)) * float(generator.standard_normal())
