"""A part as a row of the store: its pieces as a bar, what is to be done, and the same as cells of a table."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.pictures.svg import element
from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.records.models import Part
from flueproof.shop.records.stock.on_shelf import last_good
from flueproof.shop.records.stock.standing import Standing

CSV_HEAD: Final = (
    "code", "part", "kind", "place", "usable", "not usable", "reserved", "on order", "order at", "order now",
    "first expires", "supplier", "supplier's number", "lead time, days", "price paid", "still bought",
)  # fmt: skip
_WIDTH: Final = 120.0


@dataclass(frozen=True, slots=True)
class Row:
    """One part on the list; to_do: what is to be done, in words, "" for nothing; tone: good, care or bad."""

    part: Part
    standing: Standing
    bar: SafeString
    to_do: str
    tone: str
    first_expiry: str

    def is_in(self, view: str) -> bool:
        """Return whether the row belongs to a view of the list."""
        one = self.standing
        return bool({"order": one.advice.quantity, "soon": one.soon, "barred": one.barred}.get(view))


def row_of(one: Standing, today: dt.date) -> Row:
    """Return a part's row."""
    tone = "bad" if one.usable == 0 else "care" if one.advice.quantity else "good"
    return Row(one.part, one, stock_bar(one), _to_do(one), tone, _first_expiry(one, today))


def stock_bar(one: Standing) -> SafeString:
    """Return the stock as a bar: pieces free, pieces reserved (hatched by a gap), a mark at the point of ordering."""
    full = max(one.usable, one.advice.point + one.advice.usual, 1)
    scale = _WIDTH / full
    held = min(one.reserved, one.usable)
    free = (one.usable - held) * scale
    parts = [element("rect", x=0.5, y=5.5, width=_WIDTH - 1, height=13, class_="trough")]
    if one.usable - held > 0:
        parts.append(element("rect", x=0, y=5, width=free, height=14, class_="free"))
    if held:
        parts.append(element("rect", x=free, y=8, width=held * scale, height=8, class_="held"))
    at = one.advice.point * scale
    parts.append(element("path", d=f"M{at:.1f} 1V23", class_="point"))
    drawn = element(
        "svg", "".join(parts), viewBox=f"0 0 {_WIDTH:g} 24", class_="stock-bar", aria_hidden="true", focusable="false"
    )
    return mark_safe(drawn)  # noqa: S308 -- element() escapes every attribute


def csv_cells(one: Standing) -> list[str]:
    """Return a part as cells of a table."""
    part, days = one.part, sorted(day for lot in one.lots if (day := last_good(lot)) is not None)
    cells = [
        part.code, part.title, part.get_kind_display(), part.place, one.usable, one.barred, one.reserved, one.on_order,
        one.advice.point, one.advice.quantity, days[0].isoformat() if days else "", part.supplier, part.order_number,
        part.lead_days, "" if part.price is None else part.price, "yes" if part.in_use else "no",
    ]  # fmt: skip
    return [as_text(str(cell)) for cell in cells]


def as_text(cell: str) -> str:
    """Keep a spreadsheet from taking a text for a formula."""
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell


def _to_do(one: Standing) -> str:
    said = []
    if one.advice.quantity:
        said.append(f"order {one.advice.quantity}")
    if one.soon:
        pieces = sum(lot.on_hand for lot in one.soon)
        said.append(f"{pieces} expire{'s' if pieces == 1 else ''} soon")
    if one.barred:
        said.append(f"take {one.barred} off the shelf")
    return ", ".join(said)


def _first_expiry(one: Standing, today: dt.date) -> str:
    days = sorted(day for lot in one.lots if (day := last_good(lot)) is not None and day >= today)
    return day_text(days[0], short=True) if days else ""
