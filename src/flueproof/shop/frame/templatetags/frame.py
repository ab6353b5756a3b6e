"""Tags and filters that every template has."""

from __future__ import annotations

from typing import Any

from django import template

from flueproof.shop.records.people.rights import may

register = template.Library()


@register.filter(name="may")
def may_filter(person: Any, right: str) -> bool:
    """Return True when the person has the right: `{% if request.user|may:"sign" %}`."""
    return may(person, right)
