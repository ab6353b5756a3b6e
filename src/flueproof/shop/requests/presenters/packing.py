"""The packing list as a row of large ticks with drawings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from django.utils.html import format_html
from django.utils.safestring import SafeString

from flueproof.papers.box_slip.packing_list import HEIGHT, WIDTH, Thing, packing_list


@dataclass(frozen=True, slots=True)
class PackingChoice:
    """One thing to tick; drawing: silent inline SVG in the page's own colors, empty for what was written in."""

    value: str
    words: str
    why: str
    drawing: SafeString
    ticked: bool


def packing_choices(form: Any) -> list[PackingChoice]:
    """Return the things of a form's field `enclosed`, with those that are ticked."""
    bound = form["enclosed"]
    ticked = {str(value) for value in (bound.value() or [])}
    known = {thing.name: thing for thing in packing_list()}
    return [
        _choice(str(value), known.get(str(value)), str(value) in ticked) for value, _ in form.fields["enclosed"].choices
    ]


@cache
def thing_drawing(thing: Thing) -> SafeString:
    """Return the drawing of a thing as inline SVG whose colors are those of the page."""
    pale = format_html('<path class="pale-only" d="{}"/>', thing.pale) if thing.pale else ""
    fill = format_html('<path class="fill" d="{}"/>', thing.fill) if thing.fill else ""
    return format_html(
        '<svg class="drawing thing" viewBox="0 0 {} {}" aria-hidden="true" focusable="false">{}{}'
        '<path class="ink" d="{}"/></svg>',
        WIDTH,
        HEIGHT,
        pale,
        fill,
        thing.ink,
    )


def _choice(value: str, thing: Thing | None, ticked: bool) -> PackingChoice:  # noqa: FBT001 -- a fact of the choice
    if thing is None:
        return PackingChoice(value, value, "", SafeString(""), ticked)
    return PackingChoice(value, thing.words, thing.why, thing_drawing(thing), ticked)
