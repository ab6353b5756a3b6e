"""A settled reading of one channel at one step, ready to be compared with its reference."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from flueproof.readings.settling import SettledValue


@dataclass(frozen=True, slots=True)
class ReferenceValue:
    """What the reading is compared with, in the core unit of the channel.

    u_certificate: standard uncertainty from the certificate; kind: its distribution; stated: how it was stated.
    u_source: what the source adds (spread of a dry block, say). identifier: key in the record's references.
    supplier: who certified it, a common cause; implied: not on the certificate, taken from the balance gas; cause: tag
    of the error that it shares with others (a lot).
    """

    value: float
    u_certificate: float
    dof: float
    kind: str
    identifier: str
    supplier: str | None = None
    u_source: float = 0.0
    stated: str = "expanded"
    implied: bool = False
    cause: str | None = None

    @property
    def shared(self) -> str:
        """The tag of its common cause: the lot's or the cylinder's, else the reference itself (own rule)."""
        return self.cause or self.identifier


@dataclass(frozen=True, slots=True)
class Measured:
    """One channel at one step: settled value, bound and reference, in core units (%, ppm, degC, Pa).

    on_gas_s: from gas on to the last look [s], None where there are no times.
    """

    step: str
    at: datetime
    phase: str
    kind: str
    channel: str
    unit: str
    feed: str | None
    probe: str | None
    of: str | None
    application: int
    pinched: bool
    settled: SettledValue
    reference: ReferenceValue | None
    displayed_at_hold: float | str | None
    on_gas_s: float | None = None

    @property
    def number(self) -> float | None:
        """The settled value [core unit], None where the display gave a bound or nothing (own rule)."""
        return None if self.settled.bound is not None or math.isnan(self.settled.value) else self.settled.value
