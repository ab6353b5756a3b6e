"""What to mind with figures of a flue gas: they are no proof of a safe appliance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from flueproof.chemistry.field.figures import Figure

CAUTIONS: Final = (
    "Carbon monoxide kills unseen. Keep a CO alarm where people sleep.",
    "A figure is only as good as the analyzer: one out of calibration can call an unsafe appliance safe.",
    "An efficiency says nothing about safety; draft, spillage and CO in the room are tests of their own.",
    "Local codes and licensed practice decide what must be done; no limit is built into this program.",
)


def cautions_for(figures: Mapping[str, Figure]) -> tuple[str, ...]:
    """Return the cautions for figures of field readings, the last one deferring to local codes.

    Source: common practice, no source.
    """
    said = []
    if any(bool(np.any(figure.doubtful)) for figure in figures.values()):
        said.append(
            "O2 above 15 %: little flue gas is left in the sample. Figures for it move much with a small error of O2, "
            "more than the linear uncertainty says. Look for a leak, or for a probe outside the flue."
        )
    net, dry = figures.get("efficiency_condensing_net"), figures.get("efficiency_net")
    if net is not None and dry is not None and bool(np.any(net.value > dry.value + 1e-6)):
        said.append(
            "The stack lies below the dew point: water condenses and its heat may come back, so that a net efficiency "
            "can pass 100 %. The figures with condensation are the most that can be; the German formula and the "
            "heat-loss method know nothing of it."
        )
    return (*said, *CAUTIONS)
