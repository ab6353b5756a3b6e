"""One value typed at a moment of the timer: kept, read back in words, and asked back once when it is far off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.papers.content.display import unit_sign
from flueproof.readings.shown import text_as_shown
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.applications import ApplicationError, add_typed
from flueproof.shop.records.visits.events import Sender
from flueproof.shop.records.visits.looks.of_application import TAKEN_BACK, gas_on_s
from flueproof.shop.records.visits.looks.target import aim_of
from flueproof.shop.records.visits.looks.words import read_back
from flueproof.shop.records.visits.rules.asking_back import far_values, in_shown_unit

_ROUNDING: Final = 1e-3
ARRIVED_S: Final = 60.0  # earlier a value may be far from the gas and right; common practice, no source


@dataclass(frozen=True, slots=True)
class Typed:
    """What a page sends: its id and number, channel, moment of the timer [s], text of the display, hash of a photo."""

    source: str
    sequence: int
    channel: str
    mark_s: float
    shown: str
    photo: str = ""


@dataclass(frozen=True, slots=True)
class Understood:
    """What was understood, in words, and a question where the value is far from what is on the analyzer."""

    words: str
    asks: str


def take_typed(application: Application, typed: Typed, now: datetime) -> Understood:
    """Commit one typed value and return what was understood.

    Raises: ApplicationError, ShownError, SentDifferentlyError; nothing is written then.
    """
    planned = next((one for one in application.plan["channels"] if one["channel"] == typed.channel), None)
    if planned is None:
        raise ApplicationError(f"{typed.channel!r} is not measured here. Load the page anew.")
    on_s = gas_on_s(application)
    if on_s is None:
        raise ApplicationError("The timer stands. Press its key when the gas goes on, then type.")
    shown = typed.shown.strip().replace("\u2212", "-")
    reading = {**planned, "shown": shown, "t_s": on_s + typed.mark_s}
    add_typed(application, Sender(typed.source, typed.sequence), [reading], now, typed.photo)
    if shown == TAKEN_BACK:
        return Understood("", "")
    return Understood(read_back(shown, planned["unit"], planned["step"]), _question(application, typed, planned, shown))


def _on_a_step(number: float, step: float) -> bool:
    """Return whether a display with this step can show the number; a thousandth of a step is rounding."""
    return step <= 0.0 or abs(number / step - round(number / step)) < _ROUNDING


def _question(application: Application, typed: Typed, planned: dict[str, str], shown: str) -> str:
    """Return the question, once: a value typed anew for the same moment is taken as meant."""
    number, bound = text_as_shown(shown)
    if bound is None and not _on_a_step(number, float(planned["step"])):
        step = f"{float(planned['step']):g} {unit_sign(planned['unit'])}"
        return f"{shown} is finer than the display's steps of {step}: is that what the display shows?"
    channel = shipped_profile(application.visit.job.analyzer.profile).channels.get(typed.channel)
    if bound is not None or channel is None or typed.mark_s < ARRIVED_S:
        return ""
    on_s = gas_on_s(application) or 0.0
    same = application.readings.filter(channel=typed.channel, t_s=on_s + typed.mark_s)
    if same.exclude(source=typed.source, sequence=typed.sequence).exists():
        return ""
    aim = aim_of(application, channel, channel.unit)
    if aim is None:
        return ""
    on_what = in_shown_unit(aim.reference, planned["unit"], channel)
    on_what += " bottle" if application.plan["kind"] in {"test-gas", "swap-test"} else ""
    phase = str(application.plan.get("phase", "as-found"))
    reading = {"channel": typed.channel, "unit": planned["unit"], "shown": [number]}
    return " ".join(far_values([reading], channel, aim.reference, phase, on_what))
