"""What an error of the analyzer does to the figures: the same flue, read by analyzers that are wrong in one thing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from flueproof.chemistry.field.figures import Figure
from flueproof.shop.flue.reading import FlueReading
from flueproof.testgas.dilution import SET_TO_O2_PCT, diluted

COMPARED = ("excess_air", "co_air_free", "loss_german", "efficiency_german", "efficiency_net", "efficiency_gross")


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large each error is.

    o2_pct: added to O2 [%]; co_low_pct: by how much the CO gain is low [%]; leak_pct: room air in the sample [%];
    stack_k: added to the stack temperature [K]; air_stands_c: what is used where the air sensor is missing [degC].
    """

    o2_pct: float = 1.0
    co_low_pct: float = 20.0
    leak_pct: float = 6.3
    stack_k: float = 10.0
    air_stands_c: float = 0.0


@dataclass(frozen=True, slots=True)
class Read:
    """What one analyzer reads and what follows: the figures by key, those that there are."""

    key: str
    reading: FlueReading
    figures: Mapping[str, Figure]


def true_and_wrong(reading: FlueReading, sizes: Sizes) -> tuple[Read, ...]:
    """Return the true reading first, then the same flue as each wrong analyzer reads it. Raises: ChemistryError."""
    each = (("true", reading), *wrongly_read(reading, sizes))
    return tuple(Read(key, one, one.plain_figures(COMPARED)) for key, one in each)


def wrongly_read(reading: FlueReading, sizes: Sizes) -> list[tuple[str, FlueReading]]:
    """Return what each wrong analyzer reads in the same flue; a CO error only where CO was read.

    A unit that sets itself to 20.9 in room air shows a zero error z as z (1 - O2/20.9): as if a share z/20.9 of room
    air were in its O2 alone.
    """
    o2, co, share = reading.o2_pct, reading.co_ppm, sizes.leak_pct / 100.0
    thinned = None if co is None else diluted(co, share)
    rows = [("o2", reading.read_as(o2_pct=o2 + sizes.o2_pct))]
    if sizes.o2_pct > 0.0:
        shown = diluted(o2, sizes.o2_pct / SET_TO_O2_PCT, SET_TO_O2_PCT)
        rows.append(("o2-zero", reading.read_as(o2_pct=shown)))
    rows.append(("leak", reading.read_as(o2_pct=diluted(o2, share, SET_TO_O2_PCT), co_ppm=thinned)))
    if co is not None:
        rows.append(("co", reading.read_as(co_ppm=diluted(co, sizes.co_low_pct / 100.0))))
    rows.append(("stack", reading.read_as(stack_c=reading.stack_c + sizes.stack_k)))
    rows.append(("air", reading.read_as(air_c=sizes.air_stands_c)))
    return rows
