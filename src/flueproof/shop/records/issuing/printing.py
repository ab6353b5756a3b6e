"""Printing stickers and tags: the first time freely, again only with a reason, and every time kept."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from flueproof.shop.records.models import Paper, PaperMoment, Person

COUNTED: Final = ("sticker.pdf", "sticker.zpl", "tag.pdf")
_FIRST, _AGAIN = "printed", "printed again"
_OPEN_FOR: Final = timedelta(minutes=10)


class PrintRefusedError(ValueError):
    """A sticker or tag that may not be printed so; the sentence says what to do."""


def is_counted(name: str) -> bool:
    """Return whether a file may only be fetched after it was asked for, so that each print is kept."""
    return name in COUNTED


def was_printed(paper: Paper, name: str) -> bool:
    """Return whether this sticker or tag was printed before; a sticker's two forms are one sticker."""
    return paper.moments.filter(
        what__in=[f"{how} {form}" for how in (_FIRST, _AGAIN) for form in _forms(name)]
    ).exists()


def note_print(paper: Paper, name: str, why: str, by: Person, now: datetime) -> PaperMoment:
    """Keep that a sticker or tag is printed, and let this person fetch it for ten minutes.

    why: needed from the second time on. The same asked again within a minute, with the same reason, is one print.
    Raises: PrintRefusedError.
    """
    with transaction.atomic():
        Paper.objects.select_for_update().get(pk=paper.pk)
        if not is_counted(name) or not paper.files.filter(name=name).exists():
            raise PrintRefusedError(f"{paper.number} has no {name}.")
        if newer := Paper.objects.filter(amends=paper).first():
            raise PrintRefusedError(f"{newer.number} took the place of {paper.number}. Print its sticker.")
        same = paper.moments.filter(by=by, why=why.strip(), at__gte=now - timedelta(minutes=1), what__endswith=name)
        if (before := same.last()) is not None:
            return before
        again = was_printed(paper, name)
        if again and not why.strip():
            raise PrintRefusedError("It was printed before. Say why it is printed again, such as: the first one tore.")
        return PaperMoment.objects.create(
            paper=paper, at=now, by=by, what=f"{_AGAIN if again else _FIRST} {name}", why=why.strip()[:200]
        )


def may_fetch(paper: Paper, name: str, by: Person, now: datetime) -> bool:
    """Return whether a file may be handed out now: always, or for a sticker or tag while a print of it is open."""
    if not is_counted(name):
        return True
    return paper.moments.filter(by=by, what__endswith=name, at__gte=now - _OPEN_FOR).exists()


def _forms(name: str) -> tuple[str, ...]:
    return ("sticker.pdf", "sticker.zpl") if name.startswith("sticker.") else (name,)
