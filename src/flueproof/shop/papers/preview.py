"""The paper as it will print, as pictures, kept in the cache under all that they depend on."""

from __future__ import annotations

import hashlib
import struct
from dataclasses import dataclass
from datetime import date
from typing import Final

from django.core.cache import cache

from flueproof.papers.pictures_of import pictures_of
from flueproof.shop.records.issuing.making import Amendment, issue_of
from flueproof.shop.records.models import Person, Shop
from flueproof.shop.records.visits.judged import Judged

UNSIGNED: Final = "not signed yet"
_SECONDS: Final = 900


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture; name: page-1, sticker, tag; width, height [px]."""

    name: str
    content: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Preview:
    """All pictures of a paper that is not signed yet; key: names exactly this state of it."""

    key: str
    pictures: tuple[Picture, ...]

    def named(self, name: str) -> Picture | None:
        """Return one picture, None where there is none of that name."""
        return next((picture for picture in self.pictures if picture.name == name), None)


def preview_of(
    stands: Judged, signer: Person, shop: Shop, day: date, amendment: Amendment | None = None
) -> Preview | None:
    """Return the pictures of what would be signed, None where nothing can be judged.

    Raises: PapersError.
    """
    if stands.record is None or stands.judgement is None:
        return None
    issue = issue_of(shop, UNSIGNED, signer.name_on_papers, day, amendment)
    key = hashlib.sha256(repr((stands.last_hash, stands.profile.sha256, issue)).encode()).hexdigest()
    found: Preview | None = cache.get(f"preview-{key}")
    if found is None:
        made = pictures_of(stands.record, stands.profile, stands.judgement, issue)
        found = Preview(key, tuple(_measured(name, content) for name, content in made.items()))
        cache.set(f"preview-{key}", found, _SECONDS)
    return found


def _measured(name: str, content: bytes) -> Picture:
    """Read width and height from a PNG's first chunk (ISO/IEC 15948, IHDR; from memory)."""
    width, height = struct.unpack(">II", content[16:24])
    return Picture(name, content, width, height)
