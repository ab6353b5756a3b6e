"""A statement as shape and word: three statements, three shapes; color only adds."""

from __future__ import annotations

from typing import Final

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from flueproof.pictures.grammar import WORDS

_BAND: Final = (
    '<rect class="band" x="2" y="3" width="{0}" height="14"/><line class="limit" x1="{1}" x2="{1}" y1="2" y2="18"/>'
)
_SHAPES: Final = {
    "conform": _BAND.format(28, 30) + '<circle class="mark" cx="15" cy="10" r="5"/>',
    "not-conform": _BAND.format(16, 18)
    + '<path class="way" d="M18 10H30"/><path class="mark" d="M33 4.5 38.5 10 33 15.5 27.5 10Z"/>',
    "undecided": _BAND.format(20, 22)
    + '<path class="way" d="M10 10H36M10 6V14M36 6V14"/><circle class="mark" cx="23" cy="10" r="5"/>',
    "none": '<path class="way" d="M14 10H26"/>',
}


def statement_mark(which: str, size: str = "") -> SafeString:
    """Return a statement's shape with its word.

    which: "conform", "not-conform", "undecided", or "" where nothing was stated.
    Raises: ValueError for another word.
    """
    name = which or "none"
    if name not in _SHAPES:
        raise ValueError(f"{which!r} is no statement; use one of: {', '.join(WORDS)}, or nothing")
    shapes = mark_safe(_SHAPES[name])  # noqa: S308 -- our own constant
    return format_html(
        '<span class="statement {}"><svg viewBox="0 0 40 20" aria-hidden="true" focusable="false">{}</svg>'
        "<span>{}</span></span>",
        f"{name} {size}".strip(), shapes, WORDS.get(name, "not tested"),
    )  # fmt: skip
