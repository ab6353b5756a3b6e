"""One proposed step, or the advice to stop."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Proposal:
    """What to do next at the bench.

    kind: a step kind of the bench record, or `stop`; words: the instruction; why: what it can still change.
    reference: key of the test gas or instrument; feed: where the gas goes in; pinched: with the inlet pinched.
    litres: gas it takes [L]; hold_s: at most so long [s]; decides: the points or questions it speaks to;
    chance: probability that it decides what is open [0..1], None where it is needed anyway.
    not_tested: on stopping, the points that the paper will print as not tested.
    """

    kind: str
    words: str
    why: str
    reference: str | None = None
    feed: str | None = None
    pinched: bool = False
    litres: float = 0.0
    hold_s: float = 0.0
    decides: tuple[str, ...] = ()
    chance: float | None = None
    not_tested: tuple[str, ...] = ()

    @property
    def stop(self) -> bool:
        """Whether nothing is left that could change the verdict (own rule)."""
        return self.kind == "stop"

    def to_json_dict(self) -> dict[str, Any]:
        """Return plain JSON values; litres in L, hold in s (own format)."""
        body = dataclasses.asdict(self)
        body["decides"], body["not_tested"] = list(self.decides), list(self.not_tested)
        return {**body, "stop": self.stop}
