"""Addresses of many jobs at once: looked up one by one they cost more than the rest of the page."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import quote

from flueproof.shop.frame.presenters.pages import address_of


def job_addresses() -> Callable[[str], str]:
    """Return the function that makes the address of a job's page from its number."""
    pattern = address_of("counter:job", "NUMBER")
    return lambda number: pattern.replace("NUMBER", quote(number, safe=""))
