"""The one picture grammar: limits are a pale band, references a thin line, statements three shapes.

Conform is a filled disc inside the band; not conform a filled diamond outside it with a bar to the limit; undecided
a hollow disc whose error bar crosses the limit. Shape and word carry the meaning, colour only adds, and the band has
dashed edges, so that everything survives a photocopier.
"""

from __future__ import annotations

from typing import Final

from flueproof.pictures.svg import element

INK: Final = "#1d1d1b"
QUIET: Final = "#4f4b45"
BAND: Final = "#ebe7dd"
GOOD: Final = "#1f4e79"
BAD: Final = "#a63a12"
PAPER: Final = "#ffffff"
WORDS: Final = {"conform": "conform", "not-conform": "not conform", "undecided": "too close to call"}
MARK_RADIUS: Final = 2.7
CAP: Final = 2.2


def band(x_low: float, x_high: float, y_top: float, height: float, *, edges: tuple[bool, bool]) -> str:
    """Return the pale band of a limit between two places [pt]; `edges` says which side ends at a limit.

    Source: common practice, no source.
    """
    parts = [element("rect", x=x_low, y=y_top, width=x_high - x_low, height=height, fill=BAND)]
    for shown, x in zip(edges, (x_low, x_high), strict=True):
        if shown:
            parts.append(
                element(
                    "line", x1=x, x2=x, y1=y_top, y2=y_top + height, stroke=QUIET, stroke_width=0.6,
                    stroke_dasharray="2 1.4",
                )
            )  # fmt: skip
    return "".join(parts)


def thin_line(x1: float, y1: float, x2: float, y2: float) -> str:
    """Return the thin line of a reference [pt].

    Source: common practice, no source.
    """
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=INK, stroke_width=0.6)


def guard_line(x: float, y_top: float, height: float) -> str:
    """Return the dotted line [pt] at which a guarded decision rule stops saying conform.

    Source: common practice, no source.
    """
    return element("line", x1=x, x2=x, y1=y_top, y2=y_top + height, stroke=QUIET, stroke_width=0.6,
                   stroke_dasharray="0.6 1.6")  # fmt: skip


def error_bar(x_low: float, x_high: float, y: float, *, caps: tuple[bool, bool] = (True, True)) -> str:
    """Return an error bar between two places [pt]; an end that leaves the picture has no cap.

    Source: common practice, no source.
    """
    path = f"M{x_low:.2f} {y:.2f}H{x_high:.2f}"
    for shown, x in zip(caps, (x_low, x_high), strict=True):
        if shown:
            path += f"M{x:.2f} {y - CAP:.2f}V{y + CAP:.2f}"
    return element("path", d=path, stroke=INK, stroke_width=0.9, fill="none")


def bar_to_limit(x_limit: float, x_mark: float, y: float) -> str:
    """Return the bar from the limit to a mark outside it [pt].

    Source: common practice, no source.
    """
    left, right = sorted((x_limit, x_mark))
    return element(
        "rect",
        x=left,
        y=y - 1.5,
        width=right - left,
        height=3.0,
        fill=BAD,
        fill_opacity=0.45,
        stroke=BAD,
        stroke_width=0.5,
    )


def mark(statement: str, x: float, y: float) -> str:
    """Return the mark of a statement ("conform", "not-conform", "undecided") at (x, y) [pt].

    Raises: KeyError for another word.
    Source: common practice, no source.
    """
    WORDS[statement]  # an unknown statement must not become a mark
    radius = MARK_RADIUS
    if statement == "not-conform":
        reach = radius + 0.9
        corners = f"{x:.2f},{y - reach:.2f} {x + reach:.2f},{y:.2f} {x:.2f},{y + reach:.2f} {x - reach:.2f},{y:.2f}"
        return element("polygon", points=corners, fill=BAD)
    if statement == "undecided":
        return element("circle", cx=x, cy=y, r=radius, fill=PAPER, stroke=INK, stroke_width=1.3)
    return element("circle", cx=x, cy=y, r=radius, fill=GOOD)


def break_mark(x: float, y: float) -> str:
    """Return two slanting strokes [pt] that say: the bar is longer than the picture shows.

    Source: common practice, no source.
    """
    gap = element("rect", x=x - 2.2, y=y - 3.4, width=4.4, height=6.8, fill=PAPER)
    path = "".join(f"M{x + shift - 1:.2f} {y + 3.2:.2f}L{x + shift + 1:.2f} {y - 3.2:.2f}" for shift in (-1.4, 1.4))
    return gap + element("path", d=path, stroke=INK, stroke_width=0.7, fill="none")
