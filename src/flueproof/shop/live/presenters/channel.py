"""One channel while it is read: large digits, where it heads, how much longer, and its picture."""

from __future__ import annotations

import math
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from flueproof.papers.content.display import name_of, unit_sign
from flueproof.pictures.errors import EmptyPictureError
from flueproof.pictures.trace_picture import Settled, Target, trace_picture
from flueproof.shop.live.presenters.words import about_seconds, with_expanded
from flueproof.shop.records.visits.looks.trend import Trend
from flueproof.shop.records.visits.looks.words import NOTHING, as_displayed, read_back

_LONGEST_BAR_S = 600.0


@dataclass(frozen=True, slots=True)
class ChannelView:
    """One channel ready to show.

    digits: as displayed; meaning: of a text such as OVER; aim: what it should be; heading: where it goes; wait: in
    words, "" when enough; bar_value, bar_most: for the bar [s]; enough: gas may be shut off as far as it goes.
    """

    name: str
    title: str
    unit: str
    step: str
    digits: str
    meaning: str
    aim: str
    heading: str
    wait: str
    bar_value: int
    bar_most: int
    enough: bool
    why: str
    picture: SafeString
    caption: str
    read: bool


def channel_view(trend: Trend, hold_s: float, *, width_pt: float = 280.0, height_pt: float = 150.0) -> ChannelView:
    """Return a channel's view; hold_s: the profile's hold, drawn into the picture [s]."""
    picture = _picture(trend, hold_s, width_pt, height_pt)
    wait_s = 0.0 if trend.enough or trend.wait_s is None else min(trend.wait_s, _LONGEST_BAR_S)
    gone_s = max(0.0, trend.at_s or 0.0)
    return ChannelView(
        name=trend.channel,
        title=name_of(trend.channel, trend.title),
        unit=unit_sign(trend.unit),
        step=f"{trend.step:g}",
        digits=as_displayed(trend.shown, trend.step),
        meaning=read_back(trend.shown, trend.unit, trend.step) if isinstance(trend.shown, str) else "",
        aim=_aim(trend),
        heading=_heading(trend),
        wait=about_seconds(wait_s) if wait_s > 0.0 else "",
        bar_value=round(gone_s),
        bar_most=max(1, round(gone_s + wait_s)),
        enough=trend.enough,
        why=trend.why,
        picture=picture,
        caption=_caption(trend) if picture else "",
        read=trend.shown is not None,
    )


def _aim(trend: Trend) -> str:
    if trend.aim is None:
        return "no reference for this channel"
    if trend.aim.limit is None:
        return f"reference {trend.aim.reference:.4g} {unit_sign(trend.unit)}"
    unit = unit_sign(trend.unit)
    return f"reference {trend.aim.reference:.4g} {unit}, allowed ± {trend.aim.limit:.3g} {unit}"


def _heading(trend: Trend) -> str:
    if trend.settled is None or not math.isfinite(trend.settled.value):
        return NOTHING
    if not _says_something(trend):
        return "too early to say"
    return with_expanded(trend.settled.value, trend.expanded, trend.unit)


def _picture(trend: Trend, hold_s: float, width_pt: float, height_pt: float) -> SafeString:
    settled = None
    if trend.settled is not None and trend.expanded is not None and _says_something(trend):
        settled = Settled(_four_digits(trend.settled.value), trend.expanded)
    target = None
    if trend.aim is not None:
        limit = trend.aim.limit
        low, high = (None, None) if limit is None else (trend.aim.reference - limit, trend.aim.reference + limit)
        target = Target(trend.aim.reference, low, high)
    try:
        drawn = trace_picture(
            name_of(trend.channel, trend.title),
            unit_sign(trend.unit),
            trend.times_s,
            trend.values,
            settled=settled,
            target=target,
            hold_s=hold_s,
            close_up=True,
            width_pt=width_pt,
            height_pt=height_pt,
        )
    except EmptyPictureError:
        return SafeString("")
    return mark_safe(drawn.svg)  # noqa: S308 -- pictures.svg escapes every text and attribute


def _caption(trend: Trend) -> str:
    said = "Dots: what the display showed, the first ones only while they fit. Heavy line in its band: where it heads."
    return f"{said} Thin line: the gas, inside its limits." if trend.aim is not None else said


def _says_something(trend: Trend) -> bool:
    """Return whether the value it heads to is better known than what was shown so far spans; own rule."""
    if trend.settled is None or not math.isfinite(trend.settled.value):
        return False
    shown = [value for value in trend.values if math.isfinite(value)]
    span = max([*shown, trend.settled.value]) - min([*shown, trend.settled.value])
    return trend.expanded is None or trend.expanded <= max(span, 5.0 * trend.step)


def _four_digits(value: float) -> float:
    return float(f"{value:.4g}")
