"""A cylinder as we draw it: shoulders, valve, and its level; the words beside it say the same."""

from __future__ import annotations

from typing import Final

from django.utils.safestring import SafeString, mark_safe

from flueproof.pictures.svg import element

_WIDTH: Final = 64.0
_HEIGHT: Final = 176.0
_BODY_TOP: Final = 46.0
_FOOT: Final = 170.0
_BODY: Final = "M8 170V62Q8 42 24 38V28H40V38Q56 42 56 62V170Z"
_VALVE: Final = "M20 28H44M26 28V16H38V28M32 16V9M22 9H42M38 22H48V17"


def bottle_drawing(share: float | None, *, tone: str, name: str) -> SafeString:
    """Return a cylinder with its level, colored by the page's style.

    share: of a full one [-], None where nobody knows (then no level is drawn, only a question mark); tone: `good`,
    `care` or `bad`; name: makes the drawing's own ids.
    """
    clip = f"inside-{name}"
    parts = [element("clipPath", element("path", d=_BODY), id=clip)]
    parts.append(element("path", d=_BODY, class_="shell"))
    if share is not None:
        top = _FOOT - min(max(share, 0.0), 1.0) * (_FOOT - _BODY_TOP)
        level = element("rect", x=0, y=top, width=_WIDTH, height=_HEIGHT - top, class_="level")
        line = element("line", x1=8, x2=56, y1=top, y2=top, class_="surface")
        parts.append(element("g", level + line, clip_path=f"url(#{clip})"))
        parts += [_mark(at) for at in (0.25, 0.5, 0.75)]
    else:
        parts.append(element("text", "?", x=32, y=122, class_="unknown", text_anchor="middle"))
    parts += [element("path", d=_BODY, class_="outline"), element("path", d=_VALVE, class_="outline")]
    box = f"0 0 {_WIDTH:g} {_HEIGHT:g}"
    drawn = element(
        "svg", "".join(parts), viewBox=box, class_=f"cylinder {tone}", aria_hidden="true", focusable="false"
    )
    return mark_safe(drawn)  # noqa: S308 -- element() escapes every attribute


def _mark(share: float) -> str:
    y = _FOOT - share * (_FOOT - _BODY_TOP)
    return element("line", x1=8, x2=15, y1=y, y2=y, class_="scale")
