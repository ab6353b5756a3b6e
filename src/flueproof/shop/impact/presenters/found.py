"""What was found, channel by channel: shown against true with its band, in words and as a table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from flueproof.analyzer.profile import Profile
from flueproof.impact.duties.sizes import sizes_by_channel
from flueproof.impact.found.field_errors import FieldErrors
from flueproof.impact.found.gas_lines import Parameter
from flueproof.impact.found.lines import (
    CO_OFFSET,
    CO_SLOPE,
    NO_OFFSET,
    NO_SLOPE,
    O2_OFFSET,
    O2_SLOPE,
    PARAMETERS,
    GasLines,
)
from flueproof.pictures.picture import Picture
from flueproof.shop.impact.drawing.channel_picture import Band, channel_picture
from flueproof.shop.impact.presenters.figures import difference_text, shown_text, turned

FloatArray = NDArray[np.float64]
_K: Final = 2.0
_GASES: Final[dict[str, tuple[Parameter, Parameter]]] = {
    "o2": (O2_SLOPE, O2_OFFSET),
    "co": (CO_SLOPE, CO_OFFSET),
    "no": (NO_SLOPE, NO_OFFSET),
}
_TITLES: Final = {"o2": "O2", "co": "CO", "no": "NO", "stack": "Stack temperature", "air": "Air temperature"}
_QUANTITY: Final = {"o2": "o2_pct", "co": "co_ppm", "no": "co_ppm", "stack": "stack_c", "air": "air_c"}
_CORE: Final = {"o2": "%", "co": "ppm", "no": "ppm"}
_PLACES: Final = 41
_LEAST_PPM: Final = 200.0


@dataclass(frozen=True, slots=True)
class ChannelFound:
    """One channel: its title, how it was tested, the sentence, and a picture for each explanation that stays open."""

    title: str
    state: str
    words: str
    pictures: tuple[Picture, ...]


_STATES: Final = {
    "measured": "measured",
    "not-tested": "not tested: taken as inside its limits",
    "dead": "hardly answered to its gas: its readings say nothing",
    "absent": "gave no reading: its readings say nothing",
}


def channels_found(errors: FieldErrors, profile: Profile, unit: str) -> list[ChannelFound]:
    """Return what is known of each channel of the model; unit: the person's for temperatures."""
    said = sizes_by_channel(errors)
    made = []
    for name in ("co", "o2", "no", "stack", "air"):
        if name not in profile.channels:
            continue
        finding = errors.findings[name]
        words = said[name].words if name in said else finding.words or _temperature_words(name, errors, unit)
        pictures = _pictures(name, errors, profile, unit) if finding.state in {"measured", "not-tested"} else ()
        made.append(ChannelFound(_TITLES[name], _STATES[finding.state], words, pictures))
    return made


def _pictures(name: str, errors: FieldErrors, profile: Profile, unit: str) -> tuple[Picture, ...]:
    if name in _GASES:
        high = _high_of(name, errors, profile)
        return tuple(_gas_picture(name, one.words, one.lines, high, errors) for one in _different(name, errors))
    band = _temperature_band(name, errors, profile, unit)
    return () if band is None else (channel_picture(_TITLES[name], _sign(unit), band),)


def _different(name: str, errors: FieldErrors) -> list[_Explained]:
    """Return the explanations that stay open for a channel; those that say the same of it count once, unnamed."""
    slope, offset = _GASES[name]
    seen: dict[tuple[float, ...], _Explained] = {}
    for one in errors.hypotheses:
        lines = one.lines
        told = (lines.value(slope), lines.value(offset), lines.u(slope), lines.u(offset))
        key = tuple(round(value, 9) for value in told)
        seen.setdefault(key, _Explained(one.words, lines))
    found = list(seen.values())
    return found if len(found) > 1 else [_Explained("", found[0].lines)]


@dataclass(frozen=True, slots=True)
class _Explained:
    words: str
    lines: GasLines


def _high_of(name: str, errors: FieldErrors, profile: Profile) -> float:
    if name == "o2":
        return errors.o2_air_pct
    tested = errors.findings[name].tested_high
    return max(float(tested) if math.isfinite(tested) else 0.0, min(_LEAST_PPM, profile.channels[name].high))


def _gas_picture(name: str, words: str, lines: GasLines, high: float, errors: FieldErrors) -> Picture:
    true = np.linspace(0.0, high, _PLACES)
    slope, offset = (PARAMETERS.index(one) for one in _GASES[name])
    shown = lines.values[slope] * true + lines.values[offset]
    covariance = lines.covariance
    variance = covariance[slope, slope] * true**2 + 2.0 * covariance[slope, offset] * true + covariance[offset, offset]
    band = Band(true, shown, _K * np.sqrt(np.maximum(variance, 0.0)), errors.findings[name].state == "measured")
    return channel_picture(_TITLES[name], _CORE[name], band, explained=words)


def _temperature_words(name: str, errors: FieldErrors, unit: str) -> str:
    """Say the error at each tested point of a temperature channel, nothing where none was tested."""
    found = {"stack": errors.stack, "air": errors.air}.get(name)
    if found is None:
        return ""
    sign, said = _sign(unit), []
    for place, at in enumerate(found.shown_c):
        error, u = float(found.error_k[place]), math.sqrt(max(float(found.covariance[place, place]), 0.0))
        off, wide = difference_text(error, _K * u, unit)
        said.append(f"{off} ± {wide} {sign} where it showed {shown_text(float(at), _QUANTITY[name], unit)} {sign}")
    return f"Error {'; '.join(said)}."


def _temperature_band(name: str, errors: FieldErrors, profile: Profile, unit: str) -> Band | None:
    """Shown over true from what was tested, on readings from the room to beyond the highest tested point."""
    found = errors.stack if name == "stack" else errors.air
    channel = profile.channels[name]
    top = min(channel.high, 300.0 if name == "stack" else 50.0)
    shown = np.linspace(max(channel.low, 0.0), top, _PLACES)
    if found is None:
        u = errors.untested_k.get(name, 0.0)
        true, wide = shown.copy(), np.full(shown.size, _K * u)
    else:
        error, u_k, _ = found.at(shown)
        true, wide = shown - error, _K * u_k
    if true[-1] <= true[0]:
        return None
    quantity = _QUANTITY[name]
    factor = turned(1.0, quantity, unit) - turned(0.0, quantity, unit)
    zero = turned(0.0, quantity, unit)
    return Band(true * factor + zero, shown * factor + zero, wide * factor, found is not None)


def _sign(unit: str) -> str:
    return {"degF": "\N{DEGREE SIGN}F", "degC": "\N{DEGREE SIGN}C"}[unit]
