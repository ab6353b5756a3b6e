"""One channel as found: what it showed against what was true, with the 95 % band and the line of a right unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from flueproof.pictures import grammar
from flueproof.pictures.axis import Axis, tick_text, ticks
from flueproof.pictures.picture import Picture
from flueproof.pictures.svg import document, element, fitted, text

FloatArray = NDArray[np.float64]
_LEFT_PT: Final = 32.0
_TOP_PT: Final = 18.0
_FOOT_PT: Final = 17.0
_RIGHT_PT: Final = 8.0
_STRIP_PT: Final = 96.0
_SMALL_PT: Final = 8.5
_ROWS: Final = 6


@dataclass(frozen=True, slots=True)
class Band:
    """What a channel shows over what is true, with the half width of its 95 % band, shapes (n,) [unit of the picture].

    measured: whether it was, or is only bounded by the limits of the model.
    """

    true: FloatArray
    shown: FloatArray
    wide: FloatArray
    measured: bool


def channel_picture(
    title: str, unit: str, band: Band, *, explained: str = "", width_pt: float = 220.0, height_pt: float = 226.0
) -> Picture:
    """Return the picture of one channel [unit]; explained: which of several explanations it rests on."""
    lowest = min(float(np.min(band.shown - band.wide)), float(band.true[0]))
    highest = max(float(np.max(band.shown + band.wide)), float(band.true[-1]))
    over = Axis(float(band.true[0]), float(band.true[-1]), _LEFT_PT, width_pt - _RIGHT_PT)
    up = Axis(min(lowest, 0.0) if lowest > -0.02 * highest else lowest, highest, height_pt - _STRIP_PT, _TOP_PT)
    named = f"{title}, {unit}" + (f": {explained}" if explained else "")
    body = [text(fitted(named, width_pt, 9.5), 0, 9.5, size=9.5, font_weight="600", fill=grammar.INK)]
    body.append(_band(band, over, up))
    body.append(_path(band.true, band.true, over, up, dash="4 2.4", color=grammar.QUIET, width=0.8))
    body.append(_path(band.true, band.shown, over, up, dash="none", color=grammar.BAD, width=1.6))
    body.append(_scales(over, up))
    body.append(_errors(band, over, height_pt))
    what = "as measured" if band.measured else "not tested: as its limits allow"
    caption = f"Solid: shown, {what}, with its 95 % band; below, shown less true. Dashed: a unit that is right."
    rows = tuple(_row(band, place) for place in np.linspace(0, band.true.size - 1, _ROWS).round().astype(int))
    return Picture(
        document("".join(body), width_pt, height_pt, title=f"{named}: shown against true", description=caption),
        named,
        caption,
        (f"true, {unit}", "shown", "95 %"),
        rows,
        width_pt,
        height_pt,
    )


def _band(band: Band, over: Axis, up: Axis) -> str:
    upper = [(over.place(float(x)), up.held(float(y))) for x, y in zip(band.true, band.shown + band.wide, strict=True)]
    lower = [(over.place(float(x)), up.held(float(y))) for x, y in zip(band.true, band.shown - band.wide, strict=True)]
    points = " ".join(f"{x:.2f},{y:.2f}" for x, y in [*upper, *reversed(lower)])
    return element("polygon", points=points, fill=grammar.BAD, fill_opacity="0.22")


def _path(x: FloatArray, y: FloatArray, over: Axis, up: Axis, *, dash: str, color: str, width: float) -> str:
    places = [(over.place(float(one)), up.held(float(two))) for one, two in zip(x, y, strict=True)]
    path = "M" + "L".join(f"{one:.2f} {two:.2f}" for one, two in places)
    return element("path", d=path, fill="none", stroke=color, stroke_width=width, stroke_dasharray=dash)


def _scales(over: Axis, up: Axis) -> str:
    base = up.start
    parts = [element("line", x1=over.start, x2=over.end, y1=base, y2=base, stroke=grammar.QUIET, stroke_width=0.5)]
    for value, shown in ticks(over.low, over.high, 4):
        x = over.place(value)
        parts.append(element("line", x1=x, x2=x, y1=base, y2=base + 2.5, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, x, base + 11, size=_SMALL_PT, text_anchor="middle", fill=grammar.QUIET))
    for value, shown in ticks(up.low, up.high, 4):
        y = up.place(value)
        left = over.start - 2.5
        parts.append(element("line", x1=left, x2=over.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5))
        parts.append(text(shown, over.start - 5, y + 3, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    parts.append(text("shown", over.start + 4, up.end + 7, size=_SMALL_PT, fill=grammar.QUIET))
    return "".join(parts)


def _errors(band: Band, over: Axis, height_pt: float) -> str:
    """Draw below what is too small to be seen above: shown less true, with the same band."""
    error = band.shown - band.true
    reach = max(float(np.max(np.abs(error) + band.wide)), 1e-9)
    up = Axis(-reach, reach, height_pt - _FOOT_PT, height_pt - _STRIP_PT + 26.0)
    own = Band(band.true, error, band.wide, band.measured)
    parts = [_band(own, over, up)]
    parts.append(_path(band.true, np.zeros(error.size), over, up, dash="4 2.4", color=grammar.QUIET, width=0.8))
    parts.append(_path(band.true, error, over, up, dash="none", color=grammar.BAD, width=1.4))
    power = 10.0 ** math.floor(math.log10(reach))
    step = max(times * power for times in (1.0, 2.0, 5.0) if times * power <= reach * (1.0 + 1e-9))
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    for value in (-step, 0.0, step):
        if up.holds(value):
            y, left = up.place(value), over.start - 2.5
            parts.append(element("line", x1=left, x2=over.start, y1=y, y2=y, stroke=grammar.QUIET, stroke_width=0.5))
            shown = f"+{value:.{decimals}f}" if value > 0 else tick_text(value, decimals)
            parts.append(text(shown, over.start - 5, y + 3, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    parts.append(text("shown less true", over.start + 4, up.end - 3, size=_SMALL_PT, fill=grammar.QUIET))
    parts.append(text("true", over.end, height_pt - 5, size=_SMALL_PT, text_anchor="end", fill=grammar.QUIET))
    return "".join(parts)


def _row(band: Band, place: int) -> tuple[str, str, str]:
    wide = float(band.wide[place])
    decimals = 1 if wide <= 0.0 or not math.isfinite(wide) else max(0, min(2, 1 - math.floor(math.log10(wide))))
    ends = (float(band.shown[place]) - wide, float(band.shown[place]) + wide)
    low, high = (tick_text(end, decimals) for end in ends)
    return tick_text(float(band.true[place]), 1), tick_text(float(band.shown[place]), decimals), f"{low} to {high}"
