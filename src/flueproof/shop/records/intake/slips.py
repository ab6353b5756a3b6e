"""Box slips: the code that travels in the box and says, analyzer by analyzer, what was asked for."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Final

from flueproof.shop.records.intake.asking.codes import as_code, is_code, new_code
from flueproof.shop.records.models import RequestedAnalyzer, ServiceRequest, Shop

SLIP_SIGNS: Final = 8
REQUEST_SIGNS: Final = 6
_LONGEST: Final = 400


def new_slip(draw: Callable[[int], int] = secrets.randbelow) -> str:
    """Return a slip's code that no slip has: "K7M4-P2RX"."""
    while True:
        code = new_code(SLIP_SIGNS, draw)
        slip = f"{code[:4]}-{code[4:]}"
        if not RequestedAnalyzer.objects.filter(slip=slip).exists():
            return slip


def new_request_code(draw: Callable[[int], int] = secrets.randbelow) -> str:
    """Return a request's code that no request has: "R-7KM4P2"."""
    while True:
        code = f"R-{new_code(REQUEST_SIGNS, draw)}"
        if not ServiceRequest.objects.filter(code=code).exists():
            return code


def find_slip(text: str) -> RequestedAnalyzer | None:
    """Return the analyzer that a slip stands for, from a scan of its code or from what was typed.

    A slip's address, blanks, small letters and a missing dash are all right; a code with a wrong sign is none.
    """
    code = as_code(text[:_LONGEST])
    if not is_code(code, SLIP_SIGNS):
        return None
    rows = RequestedAnalyzer.objects.select_related("request__owner", "analyzer__owner", "job")
    return rows.filter(slip=f"{code[:4]}-{code[4:]}").first()


def find_request(text: str) -> ServiceRequest | None:
    """Return the request with a code, however it was typed: "R-7KM4P2", "r7km4p2"."""
    code = as_code(text[:_LONGEST])
    if not code.startswith("R") or not is_code(code[1:], REQUEST_SIGNS):
        return None
    return ServiceRequest.objects.filter(code=f"R-{code[1:]}").first()


def slip_address(slip: str, shop: Shop) -> str:
    """Return what a slip's QR code holds: the shop's own address with the code, or the code alone without one."""
    return f"{shop.public_address.rstrip('/')}/box/{slip}" if shop.public_address else slip
