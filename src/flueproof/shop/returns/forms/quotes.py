"""A quote as it is typed, a line of the price list, and an answer on the phone."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import PriceItem
from flueproof.shop.records.money.amounts import AmountError, checked_count, checked_price
from flueproof.shop.records.money.quoting import MOST_LINES, Wanted
from flueproof.shop.returns.forms.controls import money_input

EMPTY_ROWS = 2


class Row:
    """One line as it was typed, with what is wrong with it."""

    def __init__(self, item: str = "", words: str = "", count: str = "1", price: str = "") -> None:
        self.item, self.words, self.count, self.price = item, words, count, price
        self.wrong = ""

    @property
    def empty(self) -> bool:
        """Return True where nothing was typed."""
        return not self.words.strip() and not self.price.strip()

    def read(self) -> Wanted | None:
        """Return the line, None where it is empty or wrong (`wrong` says what)."""
        if self.empty:
            return None
        try:
            price, count = checked_price(_number(self.price)), checked_count(_number(self.count or "1"))
        except AmountError as error:
            self.wrong = str(error)
            return None
        if not self.words.strip():
            self.wrong = "Say what it is for."
            return None
        known = PriceItem.objects.filter(pk=int(self.item)).first() if _is_key(self.item) else None
        return Wanted(self.words.strip(), price, count, known)


def rows_of(posted: QueryDict) -> list[Row]:
    """Return the lines as they were typed, empty ones left out."""
    columns = [posted.getlist(name)[: MOST_LINES + 1] for name in ("item", "words", "count", "price")]
    rows = [Row(*values) for values in zip(*columns, strict=False)]
    return [row for row in rows if not row.empty]


def rows_from(lines: list[Wanted]) -> list[Row]:
    """Return lines as they would be typed."""
    return [
        Row(str(one.item.pk) if one.item else "", one.words, f"{one.count.normalize():f}", f"{one.price:.2f}")
        for one in lines
    ]


def _number(text: str) -> Decimal:
    """Return a typed number. Raises: AmountError; a comma is no point, since it means thousands elsewhere."""
    plain = text.strip().replace(" ", "")
    try:
        value = Decimal(plain)
    except InvalidOperation:
        raise AmountError(f"{text.strip()!r} is no number; type it as 1240.50.") from None
    if "_" in plain or not plain.isascii() or len(plain) > 16 or not value.is_finite():
        raise AmountError(f"{text.strip()!r} is no number; type it as 1240.50.")
    return value


def _is_key(text: str) -> bool:
    return text.isdecimal() and len(text) < 18


class DecisionForm(forms.Form):
    """What the owner said on the phone."""

    decided_by = forms.CharField(label="Who said it", max_length=120)
    words = forms.CharField(label="In their words", max_length=1000, required=False)
    decision = forms.ChoiceField(
        label="Answer",
        choices=(("approve", "approves"), ("decline", "declines")),
        widget=forms.RadioSelect,
    )


class PriceForm(VersionedModelForm):
    """A line of the price list."""

    class Meta:
        """In the order in which one writes it."""

        model = PriceItem
        fields = ("code", "words", "kind", "price", "service", "model", "in_use")
        widgets: ClassVar[dict[str, Any]] = {"price": money_input()}
        labels: ClassVar[dict[str, Any]] = {
            "words": "What it is",
            "price": "Price",
            "service": "For which service",
            "model": "For which model",
            "in_use": "In use",
        }
        help_texts: ClassVar[dict[str, Any]] = {
            "code": "Short, the shop's own.",
            "service": "A new quote of this service begins with it.",
            "model": "As on the plate. Empty: for all.",
            "price": "In the shop's currency. Quotes that are written keep their price.",
        }

    def clean_code(self) -> str:
        """Keep codes in capitals, so that one is not there twice."""
        return str(self.cleaned_data["code"]).strip().upper()

    def clean_price(self) -> Decimal:
        """Refuse a price that cannot be meant."""
        try:
            return checked_price(self.cleaned_data["price"])
        except AmountError as error:
            raise ValidationError(str(error)) from None
