"""Whatever else the judge used: frozen, hashed, kept beside the judgement so that it can be recomputed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Bundle:
    """The frozen input bundle of a judgement.

    response: per channel, response parameters learned from earlier traces (as `ResponsePrior.to_dict`).
    repeatability: per channel, pooled standard deviation between applications and its degrees of freedom
    [unit of the channel, -]; replaces the profile's figure.
    share_in_limits: share of units that earlier visits found inside limits [0..1], None when unknown; with it the
    global risk of each statement is stated.
    """

    response: Mapping[str, Any] = field(default_factory=dict)
    repeatability: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    share_in_limits: float | None = None

    def as_dict(self) -> dict[str, Any]:
        """Return plain JSON values (no physical quantity of its own)."""
        return {
            "response": dict(self.response),
            "repeatability": {name: list(pair) for name, pair in self.repeatability.items()},
            "share_in_limits": self.share_in_limits,
        }

    def sha256(self) -> str:
        """Return the hash of the bundle's canonical JSON (FIPS 180-4)."""
        text = json.dumps(self.as_dict(), sort_keys=True, separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()


EMPTY_BUNDLE = Bundle()


def bundle_from_dict(data: Mapping[str, Any]) -> Bundle:
    """Return the bundle that `as_dict` wrote. Raises: KeyError, ValueError on foreign data."""
    return Bundle(
        response=dict(data["response"]),
        repeatability={name: (float(pair[0]), float(pair[1])) for name, pair in data["repeatability"].items()},
        share_in_limits=data["share_in_limits"],
    )
