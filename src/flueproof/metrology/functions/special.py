"""The special functions of scipy, loaded with the first use: loading them takes longer than starting without them."""

from __future__ import annotations

from typing import Any


def __getattr__(name: str) -> Any:
    """Return a function of `scipy.special` by its name. Raises: AttributeError where there is none."""
    if name.startswith("__"):
        raise AttributeError(name)
    from scipy import special  # noqa: PLC0415 -- the point of this module

    return getattr(special, name)
