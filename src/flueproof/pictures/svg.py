"""Write SVG elements as strings; every text and attribute is escaped, every number is short."""

from __future__ import annotations

import math
import re
from typing import Final

FONT_FAMILY: Final = "Source Sans Pro, system-ui, sans-serif"
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_ESCAPES: Final = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}


def escaped(text: str) -> str:
    """Return text that is safe inside an element or a quoted attribute; characters XML 1.0 forbids are dropped.

    Source: W3C XML 1.0 (fifth edition), 2.2 and 2.4.
    """
    return "".join(_ESCAPES.get(sign, sign) for sign in _NOT_XML.sub("", text))


def number(value: float) -> str:
    """Return a coordinate [pt] with at most two decimals and without "-0".

    Raises: ValueError where the coordinate is not finite.
    Source: common practice, no source.
    """
    if not math.isfinite(value):
        raise ValueError(f"a picture's coordinate must be finite, got {value}")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def element(tag: str, body: str = "", **attributes: float | str) -> str:
    """Return one element; `body` must be safe already, attribute values are escaped here.

    Underscores in attribute names become hyphens (stroke_width -> stroke-width); coordinates in [pt].
    Source: W3C SVG 1.1.
    """
    parts = [tag]
    for name, value in attributes.items():
        shown = escaped(value) if isinstance(value, str) else number(value)
        parts.append(f'{name.rstrip("_").replace("_", "-")}="{shown}"')
    head = " ".join(parts)
    return f"<{head}>{body}</{tag}>" if body else f"<{head}/>"


def text(content: str, x: float, y: float, *, size: float = 8.0, **attributes: float | str) -> str:
    """Return a text element with its baseline at (x, y) [pt].

    Source: W3C SVG 1.1.
    """
    return element("text", escaped(content), x=x, y=y, font_size=size, **attributes)


def fitted(content: str, width_pt: float, size_pt: float) -> str:
    """Return the text cut with an ellipsis where it would be wider than `width_pt` [pt] at `size_pt` [pt].

    The width is an estimate for a humanist sans: 0.46 em a character.
    Source: common practice, no source.
    """
    room = max(int(width_pt / (0.46 * size_pt)), 1)
    return content if len(content) <= room else content[: max(room - 1, 0)].rstrip() + "…"


def document(body: str, width_pt: float, height_pt: float, *, title: str, description: str) -> str:
    """Return a whole picture, `width_pt` by `height_pt` [pt], that a screen reader can name and describe.

    Source: W3C SVG 1.1; WAI-ARIA 1.2, role img.
    """
    named = element("title", escaped(title)) + element("desc", escaped(description))
    return element(
        "svg",
        named + body,
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        viewBox=f"0 0 {number(width_pt)} {number(height_pt)}",
        width=f"{number(width_pt)}pt",
        height=f"{number(height_pt)}pt",
        font_family=FONT_FAMILY,
    )
