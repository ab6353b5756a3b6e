"""One settled reading of one gas channel on one application of test gas."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class GasObservation:
    """What one channel showed while one certified gas flowed in at one place.

    feed: where the gas went in (`tip`, `handle`, `hose`, `after-trap`, `instrument`, or `instrument-pinched`).
    gas, u_gas: certified content of the channel's gas and its standard uncertainty [unit of the channel].
    shown: settled reading [unit of the channel]; u_shown: its settling, noise and display step; u_repeat: scatter
    between applications [same unit].
    bottle: which gas it was; cause, supplier: tags of the common causes of its error (cause: the bottle itself unless
    a lot is named).
    others: certified contents of other gases in the blend by name [their own units], for cross-sensitivity.
    set_to: what the channel is set to in room air at switch-on [unit of the channel]; None for a channel whose
    zero is taken in room air.
    """

    step: str
    feed: str
    channel: str
    gas: float
    u_gas: float
    shown: float
    u_shown: float
    u_repeat: float
    bottle: str
    supplier: str | None = None
    cause: str | None = None
    others: Mapping[str, float] = field(default_factory=dict)
    set_to: float | None = None


@dataclass(frozen=True, slots=True)
class ZeroKnowledge:
    """What is known of a channel's zero before any gas: the room air it was zeroed in.

    value, u: offset of the display and its standard uncertainty [unit of the channel].
    """

    channel: str
    value: float
    u: float
