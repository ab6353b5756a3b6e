"""A letter about an invented job: how the shop's words look before any owner gets them."""

from __future__ import annotations

from typing import Final

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.records.mailing.kinds import Kind
from flueproof.shop.records.mailing.writing import demo_words
from flueproof.shop.records.models import Shop

_VALUES: Final[dict[str, str]] = {
    "person": "Ada Quay (invented)",
    "owner": "Tidewater Heating (invented)",
    "job": "J-2026-00042",
    "analyzer": "Orrin 5, serial O5-20417",
    "service": "verify, adjust if needed",
    "promised": "3 December 2026",
    "missing": "- the hose\n- the serial number of the probe",
    "request": "R7K4",
    "analyzers": "- Orrin 5, serial O5-20417\n- Orrin 2, serial O2-11830",
    "slips": "- R7K4-1: Orrin 5, serial O5-20417\n- R7K4-2: Orrin 2, serial O2-11830",
    "batteries": caution_words("batteries"),
    "until": "10 December 2026",
    "about": "the hose",
    "question": "The hose is not in the box. What shall we do?",
    "choices": "- I send it\n- Sell me a new one\n- Test it without",
    "quote": "Q-2026-00007",
    "work": "The CO cell reads 30 % low and cannot be adjusted any more. It needs a new one.",
    "lines": "- CO cell: USD 180.00\n- Fitting and adjusting: USD 65.00",
    "total": "USD 245.00",
    "valid": "9 December 2026",
    "way_back": "by parcel, insured",
    "payment": "It leaves as soon as the bill is paid.",
    "carrier": "a parcel service",
    "tracking": "0000 1111 2222",
    "unit": "Loaner 3",
    "back_on": "4 December 2026",
    "due": "25 December 2026",
    "since": "26 October 2026",
    "subject": "About your analyzer, job J-2026-00042",
    "words": "Hello Ada,\n\nthe box you asked about left this morning.\n\nBest wishes from the counter",
}


def preview(kind: Kind, subject: str, text: str, shop: Shop) -> tuple[str, str, str]:
    """Return (subject, text, HTML) of an invented letter in these words, with the shop's own name and address."""
    base = shop.public_address.rstrip("/") or "https://bench.example"
    values = {
        **_VALUES,
        "shop": shop.name,
        "shop_phone": shop.phone,
        "shop_email": shop.email,
        "shop_address": "\n".join(str(line) for line in shop.address),
        "link": f"{base}/answer/an-invented-link/" if kind.link else "",
    }
    return demo_words(subject, text, values)
