"""A picture as it leaves this room: the drawing, what to see in it, and the table behind it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture for a page or a paper.

    svg: the drawing; title: its name; caption: what to see; header, rows: the numbers behind it as text;
    width_pt, height_pt: its size [pt].
    """

    svg: str
    title: str
    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    width_pt: float
    height_pt: float
