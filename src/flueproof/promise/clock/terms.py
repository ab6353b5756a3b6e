"""What the shop promises: business days per service, more for a repair, and what the day means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from flueproof.promise.clock.errors import BadTermsError

MOST_DAYS = 260
MEANINGS = {"ready": "ready to ship", "delivered": "delivered"}


def _usual_days() -> dict[str, int]:
    return {"verify": 5, "verify-adjust": 5, "call-first": 5, "repair": 5}


def _usual_extra() -> dict[str, int]:
    return {"repair": 2}


@dataclass(frozen=True)
class Terms:
    """The terms of one job's promise.

    service: the service as the job was opened. days: business days of each service [d]. extra: more for some [d].
    owner_days: days agreed with this owner, in place of those of the service; extra days are added all the same [d].
    means: "ready" (to ship) or "delivered", which adds transit_days [business days].
    Raises: BadTermsError.
    """

    service: str = "verify-adjust"
    days: Mapping[str, int] = field(default_factory=_usual_days)
    extra: Mapping[str, int] = field(default_factory=_usual_extra)
    owner_days: int | None = None
    means: str = "ready"
    transit_days: int = 0

    def __post_init__(self) -> None:
        if self.means not in MEANINGS:
            raise BadTermsError(f"a promise means one of {', '.join(MEANINGS)}, not “{self.means}”")
        numbers = {**self.days, **self.extra, "transit": self.transit_days, "this owner": self.owner_days or 0}
        for what, number in numbers.items():
            if not 0 <= number <= MOST_DAYS:
                raise BadTermsError(f"{number} business days for {what}: give 0 to {MOST_DAYS}")
        self.business_days(self.service)

    @property
    def in_transit(self) -> int:
        """Business days [d] between ready and the promised day."""
        return self.transit_days if self.means == "delivered" else 0

    def business_days(self, service: str) -> int:
        """Return the business days [d] from day 0 to the promised day for a service. Raises: BadTermsError."""
        if service not in self.days:
            raise BadTermsError(f"no days are set for service “{service}”; set: {', '.join(self.days)}")
        own = self.days[service] if self.owner_days is None else self.owner_days
        return own + self.extra.get(service, 0) + self.in_transit
