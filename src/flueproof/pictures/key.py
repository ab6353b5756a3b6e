"""The key to the picture grammar: the three marks, the band and the line, with their words."""

from __future__ import annotations

from flueproof.pictures import grammar
from flueproof.pictures.picture import Picture
from flueproof.pictures.svg import document, text

_TEXT_PT = 8.0
_ENTRIES = (
    ("conform", "conform", 58.0),
    ("undecided", "too close to call", 86.0),
    ("not-conform", "not conform", 76.0),
)


def key_picture() -> Picture:
    """Return the key, one line high [pt].

    Source: the picture grammar is our own.
    """
    y, x, parts = 7.0, 0.0, []
    for statement, word, width in _ENTRIES:
        parts.append(_sample(statement, x, y))
        parts.append(text(word, x + 26, y + 2.7, size=_TEXT_PT, fill=grammar.INK))
        x += width + 8
    parts.append(grammar.band(x, x + 20, y - 5, 10, edges=(True, True)))
    parts.append(grammar.thin_line(x + 10, y - 5, x + 10, y + 5))
    parts.append(
        text("limits, with zero error as the thin line; bars show U", x + 25, y + 2.7, size=_TEXT_PT, fill=grammar.INK)
    )
    width = x + 25 + 178
    caption = (
        "Filled disc inside the band: conform. Hollow disc, bar across the limit: too close to call. "
        "Filled diamond with a bar from the limit: not conform."
    )
    rows = tuple(
        (word, shape) for (_, word, _), shape in zip(_ENTRIES, ("disc", "hollow disc", "diamond"), strict=True)
    )
    svg = document("".join(parts), width, 14.0, title="Key to the pictures", description=caption)
    return Picture(svg, "Key to the pictures", caption, ("Statement", "Mark"), rows, width, 14.0)


def _sample(statement: str, x: float, y: float) -> str:
    edge = {"conform": 20.0, "undecided": 13.0, "not-conform": 6.0}[statement]
    spot = {"conform": 10.0, "undecided": 12.0, "not-conform": 17.0}[statement]
    parts = [grammar.band(x, x + edge, y - 5, 10, edges=(False, True))]
    if statement == "not-conform":
        parts.append(grammar.bar_to_limit(x + edge, x + spot, y))
    parts.append(grammar.error_bar(x + spot - 5.5, x + spot + 5.5, y))
    parts.append(grammar.mark(statement, x + spot, y))
    return "".join(parts)
