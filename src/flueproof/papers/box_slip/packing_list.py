"""What may travel with an analyzer, each with a drawing of our own, and the cautions of the box slip."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from flueproof.pictures.svg import document, element

WIDTH, HEIGHT = 72, 48
_LINE = "#1d1d1b"
_PALE = "#e6e2d8"


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing of the packing list.

    name: as jobs keep it; usual: it belongs to nearly every box; ink, pale, fill: SVG paths on a field of 72 by 48.
    """

    name: str
    words: str
    why: str
    usual: bool
    ink: str
    pale: str
    fill: str

    def drawing(self) -> str:
        """Return the drawing as SVG, 72 by 48 [pt].

        Source: own drawing.
        """
        return _drawn(self.words, self.ink, self.pale, self.fill)


@dataclass(frozen=True, slots=True)
class BoxCaution:
    """One caution; name: what programs call it; shows: what its drawing shows, in words; lines: the drawing."""

    name: str
    words: str
    shows: str
    lines: str

    def drawing(self) -> str:
        """Return the drawing as SVG, 72 by 48 [pt].

        Source: own drawing.
        """
        return _drawn(self.shows, self.lines, "", "")


@cache
def packing_list() -> tuple[Thing, ...]:
    """Return all things in the order of the list.

    Source: data/packing_list.toml.
    """
    return tuple(Thing(**entry) for entry in _read()["things"])


@cache
def box_cautions() -> tuple[BoxCaution, ...]:
    """Return the cautions of the slip.

    Source: data/packing_list.toml.
    """
    return tuple(
        BoxCaution(entry["name"], entry["words"], entry["shows"], entry["drawing"]) for entry in _read()["cautions"]
    )


def caution_words(name: str) -> str:
    """Return what one caution of the slip says, for the pages and letters that say it too.

    Raises: KeyError for one that is not on the slip.
    Source: data/packing_list.toml.
    """
    return {one.name: one.words for one in box_cautions()}[name]


def _read() -> dict[str, Any]:
    text = resources.files("flueproof.papers").joinpath("data/packing_list.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _drawn(title: str, ink: str, pale: str, fill: str) -> str:
    body = element("path", d=pale, fill=_PALE) if pale else ""
    body += element("path", d=fill, fill=_LINE) if fill else ""
    body += element("path", d=ink, fill="none", stroke=_LINE, stroke_width=1.6, stroke_linecap="round")
    return document(body, WIDTH, HEIGHT, title=title, description=title)
