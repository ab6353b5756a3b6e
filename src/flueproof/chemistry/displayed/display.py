"""What an analyzer shows at one moment: its readings, and the figures that it computed from them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NamedTuple

from flueproof.chemistry.errors import DoubtError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from flueproof.chemistry.fuels.fuel import Fuel
    from flueproof.chemistry.loss.loss import Basis

READINGS: Final = ("o2", "co", "stack", "air")
"""What is measured: O2 [% dry], CO [ppm dry], stack and air [degC]."""
COMPUTED: Final = {
    "co2": "CO2",
    "lambda": "lambda",
    "excess_air": "excess air",
    "loss": "flue loss",
    "efficiency": "efficiency",
    "co_air_free": "CO air-free",
    "dew_point": "dew point",
}
"""What is computed, and its name: CO2 [% dry], lambda [-], excess air, loss, efficiency [%], CO [ppm], dew [degC]."""


class Shown(NamedTuple):
    """A figure as shown, and the smallest step of the display [unit of the figure]."""

    value: float
    step: float


@dataclass(frozen=True, slots=True)
class Display:
    """One look at a display.

    readings, computed: by the names above, in their units; fuel: the one that is set, None where nobody noted it;
    declared: net or gross, where the display names the basis of its loss or efficiency; u: how far a reading may have
    moved between the looks, as a standard uncertainty [unit of the reading].
    Raises: DoubtError.
    """

    readings: Mapping[str, Shown]
    computed: Mapping[str, Shown]
    fuel: Fuel | None = None
    declared: Mapping[str, Basis] = field(default_factory=dict)
    u: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse figures that cannot be."""
        for known, given in ((READINGS, self.readings), (tuple(COMPUTED), self.computed)):
            for name, shown in given.items():
                if name not in known:
                    raise DoubtError(f"{name!r} is not known here: allowed are {', '.join(known)}.")
                if not (math.isfinite(shown.value) and math.isfinite(shown.step) and shown.step >= 0.0):
                    raise DoubtError(
                        f"{name}: {shown.value!r} with a step of {shown.step!r} is no figure of a display."
                    )
