"""Rows of the store as the core sees them, and what speaks against taking one."""

from __future__ import annotations

from datetime import date

from flueproof.parts.fitting import Fits, firmware_words, why_it_does_not_fit
from flueproof.parts.going_out import Lot, in_order, why_not
from flueproof.parts.shelf import last_good_day
from flueproof.shop.records.keeping.field_words import profile_in_words
from flueproof.shop.records.models import Analyzer, Part, PartLot


def last_good(lot: PartLot) -> date | None:
    """Return the last day on which a lot may be fitted, None without a limit."""
    return last_good_day(lot.made, lot.part.shelf_months, lot.expires)


def lot_of(lot: PartLot) -> Lot:
    """Return a lot as the core sees it."""
    barred = "" if lot.state == "usable" else f"{lot.get_state_display()}: {lot.why or 'no reason written'}."
    return Lot(lot.code, lot.on_hand, last_good(lot), lot.received_on, barred)


def fits_of(part: Part) -> Fits:
    """Return what a part fits, profiles in words."""
    profiles = tuple(profile_in_words(one) for one in part.profiles)
    return Fits(part.title, profiles, tuple(part.models_fitted), part.firmware, part.firmware_way)


def refusal_of(lot: PartLot, analyzer: Analyzer | None, day: date) -> str:
    """Return why a lot may not go out, or not into this analyzer, in words; "" when it may."""
    why = why_not(lot_of(lot), day)
    if why or analyzer is None:
        return why
    return wrong_for(lot.part, analyzer)


def wrong_for(part: Part, analyzer: Analyzer) -> str:
    """Return why a part is the wrong one for an analyzer, in words; "" when it fits."""
    return why_it_does_not_fit(fits_of(part), profile_in_words(analyzer.profile), analyzer.model)


def firmware_question(part: Part, analyzer: Analyzer) -> str:
    """Return what is to be said about firmware before a part goes into an analyzer; "" where nothing is."""
    return firmware_words(fits_of(part), analyzer.firmware)


def first_out(part: Part, day: date) -> PartLot | None:
    """Return the lot that should go out first, None where nothing may."""
    rows = {row.code: row for row in part.lots.select_related("part").filter(on_hand__gt=0)}
    order = in_order([lot_of(row) for row in rows.values()], day)
    return rows[order[0].code] if order else None


def usable(part: Part, day: date) -> int:
    """Return how many pieces of a part may go out."""
    rows = part.lots.select_related("part").filter(on_hand__gt=0)
    return sum(row.on_hand for row in rows if not why_not(lot_of(row), day))
