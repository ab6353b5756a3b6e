"""Stickers as PDF: one of its own size, or many on a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from flueproof.papers.errors import LabelSizeError
from flueproof.papers.labels.code import code_drawing
from flueproof.papers.typesetting import typeset, typeset_pictures

if TYPE_CHECKING:
    from datetime import date

    from flueproof.papers.labels.content import Sticker
    from flueproof.papers.labels.sizes import LabelSize, SheetLayout


def sticker_pdf(sticker: Sticker, size: LabelSize, issued_on: date) -> bytes:
    """Return one sticker as a PDF page of its own size [mm].

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset("sticker.typ", _alone(sticker, size, issued_on))


def sticker_picture(sticker: Sticker, size: LabelSize, issued_on: date) -> bytes:
    """Return the same sticker as a picture (PNG), to be looked at on a screen.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset_pictures("sticker.typ", _alone(sticker, size, issued_on), dots_per_inch=240.0)[0]


def sticker_sheet_pdf(stickers: Sequence[Sticker], layout: SheetLayout, issued_on: date, *, first: int = 1) -> bytes:
    """Return stickers on sheets, row by row, beginning at place `first` [-] of the first sheet (1 is top left).

    Raises: LabelSizeError where `first` is no place of the sheet or no sticker is given; TypesettingError.
    Source: common practice, no source.
    """
    if not stickers:
        raise LabelSizeError("a sheet needs at least one sticker, got none")
    if not 1 <= first <= layout.places:
        raise LabelSizeError(f"the first place is {first}; the sheet has places 1 to {layout.places}")
    pages: list[list[dict[str, Any]]] = []
    for index, sticker in enumerate(stickers, start=first - 1):
        sheet, place = divmod(index, layout.places)
        row, column = divmod(place, layout.columns)
        while len(pages) <= sheet:
            pages.append([])
        corner = {"x": layout.left_mm + column * layout.pitch_x_mm, "y": layout.top_mm + row * layout.pitch_y_mm}
        pages[sheet].append(corner | _drawn(sticker))
    return typeset("sticker.typ", _document({}, layout.paper, layout, pages, issued_on))


def _alone(sticker: Sticker, size: LabelSize, issued_on: date) -> dict[str, Any]:
    page = {"width": size.width_mm, "height": size.height_mm}
    place = {"x": 0.0, "y": 0.0, "page": 0, **_drawn(sticker)}
    return _document(page, "", size, [[place]], issued_on)


def _drawn(sticker: Sticker) -> dict[str, Any]:
    return asdict(sticker) | {"svg": code_drawing(sticker.code)}


def _document(
    page: dict[str, float],
    paper: str,
    size: LabelSize | SheetLayout,
    pages: list[list[dict[str, Any]]],
    issued_on: date,
) -> dict[str, Any]:
    return {
        "page": page,
        "paper": paper,
        "width": size.width_mm,
        "height": size.height_mm,
        "margin": size.margin_mm,
        "pages": pages,
        "date": {"year": issued_on.year, "month": issued_on.month, "day": issued_on.day},
    }
