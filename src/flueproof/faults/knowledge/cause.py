"""A cause: what is wrong, where, and what mending it takes."""

from __future__ import annotations

from dataclasses import dataclass

PLACES = (
    "probe",
    "path",
    "trap",
    "filter",
    "pump",
    "instrument",
    "cell",
    "electronics",
    "settings",
    "air",
    "use",
    "shop",
)
"""Where a cause sits: along the way of the sample, then what is around it; `shop` is our own bench."""
MENDS = ("field", "bench", "explain", "shop")
"""Who mends: the owner on site, the bench, nobody (nothing is wrong with the analyzer), the shop at its own gas."""
RISKS = ("hides-co", "looks-worse", "none")
"""What the readings do meanwhile: look safer than the truth, look worse than it, or neither."""
SEASONS = ("heating", "summer", "all")


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that can be wrong, or be taken for a fault.

    key, what: short name and sentence; where: one of PLACES; mend: one of MENDS; service: what the bench is asked
    for, "" where the owner mends; minutes: hands-on time of the mend [min]; money: typical parts [money of the shop];
    parts: names of parts; risk: one of RISKS; how: what to do; weight: calls out of a thousand that it is behind [-];
    needs: what the analyzer must have, all of it; ages: the part whose age matters, "" for none; season: one of
    SEASONS; source: of the figures.
    """

    key: str
    what: str
    where: str
    mend: str
    service: str
    minutes: float
    money: float
    parts: tuple[str, ...]
    risk: str
    how: str
    weight: float
    needs: frozenset[str]
    ages: str
    season: str
    source: str

    @property
    def by_owner(self) -> bool:
        """Tell whether it ends without the analyzer being sent in."""
        return self.mend in {"field", "explain"}

    @property
    def nothing_wrong(self) -> bool:
        """Tell whether the analyzer itself is right: use, air, settings of the job, or the shop's own gas."""
        return self.mend in {"explain", "shop"}
