"""Limits of a test point: absolute, a share of something, the larger of both or their sum, by range and phase."""

from __future__ import annotations

from dataclasses import dataclass

PHASES = ("as-found", "as-left")
LIMIT_PHASES = (*PHASES, "any")
LIMIT_OF = ("reference", "reading", "full-scale")
COMBINES = ("only", "larger", "sum")


@dataclass(frozen=True, slots=True)
class Limit:
    """One line of a limit table.

    phase: `as-found`, `as-left` or `any`; from_, to: range of the reference it holds for [unit of the channel], both
    ends included; absolute [unit of the channel]; percent [%] of what `of` says (`reference`, `reading`,
    `full-scale`); combine: `only` one of the two is given, `larger` of both counts, or their `sum`; source:
    publication and clause.
    """

    phase: str
    from_: float
    to: float
    absolute: float | None
    percent: float | None
    of: str
    combine: str
    source: str

    def holds_for(self, reference: float, phase: str) -> bool:
        """Return whether this line speaks of the reference value in the phase (common practice, no source)."""
        return self.phase in {"any", phase} and self.from_ <= reference <= self.to

    def value_at(self, reference: float, *, full_scale: float, reading: float | None = None) -> float:
        """Return the largest permitted |error| [unit of the channel].

        reference, reading, full_scale [unit of the channel]; without a reading the reference stands for it.
        Source: common practice, no source (how a two-part limit is read).
        """
        if self.of == "full-scale":
            base = full_scale
        elif self.of == "reading" and reading is not None:
            base = abs(reading)
        else:
            base = abs(reference)
        absolute = self.absolute or 0.0
        relative = (self.percent or 0.0) / 100.0 * base
        return absolute + relative if self.combine == "sum" else max(absolute, relative)


@dataclass(frozen=True, slots=True)
class LimitAt:
    """A limit at one reference value.

    value: largest permitted |error| [unit of the channel]; absolute, percent, of, source: as in the profile.
    """

    value: float
    absolute: float | None
    percent: float | None
    of: str
    source: str
    combine: str = "only"

    def in_words(self, unit: str) -> str:
        """Return the limit as a certificate prints it: `larger of 5 ppm or 10 % of reference`.

        Source: common practice, no source (a limit in % always says of what).
        """
        absolute = "" if self.absolute is None else f"{self.absolute:g} {unit}"
        relative = "" if self.percent is None else f"{self.percent:g} % of {self.of.replace('-', ' ')}"
        if absolute and relative:
            return f"larger of {absolute} or {relative}" if self.combine == "larger" else f"{absolute} + {relative}"
        return absolute or relative
