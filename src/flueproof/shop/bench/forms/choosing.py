"""Choosing a reference from the rack, the place on the gas path, and a channel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from flueproof.analyzer.profile import Channel, Profile
from flueproof.shop.records.models import Reference

FEEDS = (
    ("tip", "probe tip"),
    ("handle", "handle"),
    ("hose", "hose"),
    ("after-trap", "after the trap"),
    ("instrument", "instrument's inlet"),
)
PROBES = (("owner", "the owner's probe"), ("shop", "the shop's probe"))


class ReferenceField(forms.ChoiceField):
    """A reference on the rack, chosen or scanned; `clean` gives its scan code."""

    def __init__(self, **kwargs: Any) -> None:
        """Start without choices; `offer` sets them."""
        super().__init__(**{"label": "Compared with", **kwargs})
        self.widget.attrs["data-takes-scan"] = ""

    def offer(self, rack: Sequence[Reference], kind: str) -> None:
        """Offer what stands on the rack of one kind."""
        fitting = [(one.code, f"{one.code}, {one.title}") for one in rack if one.kind == kind]
        self.choices = [("", "choose or scan"), *fitting]


def path_of(cleaned: dict[str, Any]) -> dict[str, Any]:
    """Return the place on the gas path as a step has it; at the inlet there is no probe."""
    feed = cleaned["feed"]
    return {"feed": feed} if feed == "instrument" else {"feed": feed, "probe": cleaned.get("probe") or "owner"}


def channel_choices(profile: Profile, kinds: Sequence[str] = ()) -> list[tuple[str, str]]:
    """Return the profile's channels of some kinds, all where none is named."""
    return [(name, one.title) for name, one in profile.channels.items() if not kinds or one.kind in kinds]


def channel_named(profile: Profile, name: str, otherwise: str) -> Channel:
    """Return a channel by its name, another one where the profile lacks it."""
    return profile.channels.get(name) or profile.channels[otherwise]
