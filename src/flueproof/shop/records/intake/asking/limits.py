"""Limits of the owner's own, in the form of the bench record."""

from __future__ import annotations

from typing import Any


def own_limits(co_ppm: float | None, co_percent: float | None, o2: float | None) -> Any:
    """Return the owner's own limits by channel, or "profile" where no figure is given.

    co_ppm: CO, plus or minus [ppm]; co_percent: CO [% of the gas]; o2: O2 [% O2].
    """
    limits: dict[str, dict[str, Any]] = {}
    if co_ppm:
        limits["co"] = {"absolute": co_ppm, "unit": "ppm"}
    if co_percent:
        limits["co"] = {**limits.get("co", {}), "percent": co_percent, "of": "reference"}
    if o2:
        limits["o2"] = {"absolute": o2, "unit": "%"}
    return limits or "profile"
