"""The pack-out as it is sent: a tick or a reason for each part and each check."""

from __future__ import annotations

from typing import Any

from django.http import QueryDict

from flueproof.shop.records.returning.pack_out import Packed, Packing
from flueproof.shop.records.returning.packing import YES

_LONGEST = 300


def packed_of(posted: QueryDict, packing: Packing) -> Packed:
    """Return what a person entered on the page of this packing; names that it does not have are left out."""
    answers = {
        line.check.name: (
            YES if posted.get(f"check-{line.check.name}") == "on" else "",
            _words(posted, f"why-{line.check.name}"),
        )
        for line in packing.lines
    }
    goes_back = [part.name for place, part in enumerate(packing.parts) if posted.get(f"part-{place}") == "on"]
    stays = {part.name: _words(posted, f"stays-{place}") for place, part in enumerate(packing.parts)}
    return Packed(answers, goes_back, stays, posted.get("parts_changed", "")[:2000])


def _words(posted: QueryDict, name: str) -> str:
    text: Any = posted.get(name, "")
    return str(text).strip()[:_LONGEST]
