"""What a scanned or typed code is in the store: a part, or a lot of one."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Q

from flueproof.shop.records.models import Part, PartLot

_LONGEST = 80


@dataclass(frozen=True, slots=True)
class Found:
    """part, lot: what the code means, None where nothing; said: what to tell, where it is not one thing."""

    part: Part | None = None
    lot: PartLot | None = None
    said: str = ""


def find(text: str, part: Part | None = None) -> Found:
    """Return what a code means: the code or barcode of a part, or the code of a lot (of one part, where given).

    Case does not matter. A lot that is used up does not hide one that is not.
    """
    wanted = text.strip()[:_LONGEST]
    if not wanted:
        return Found(said="Scan or type a code.")
    if part is None:
        parts = list(Part.objects.filter(Q(code__iexact=wanted) | Q(scan_code__iexact=wanted))[:2])
        if len(parts) == 1:
            return Found(parts[0])
        if parts:
            return Found(said=f"Two parts have the code {wanted}: {parts[0].code} and {parts[1].code}. Choose one.")
    lots = PartLot.objects.select_related("part").filter(code__iexact=wanted)
    rows = list(lots if part is None else lots.filter(part=part))
    rows = [one for one in rows if one.on_hand] or rows
    if len(rows) == 1:
        return Found(rows[0].part, rows[0])
    if rows:
        names = ", ".join(one.part.code for one in rows)
        return Found(said=f"Lot {wanted} exists of several parts: {names}. Scan the part first.")
    return Found(said=f"The store has no part and no lot with the code {wanted}.")
