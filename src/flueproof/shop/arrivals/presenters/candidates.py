"""Who a box can be of, ready to print: probability as words, figure and bar, and the reasons for and against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from flueproof.intake.recognition import Candidate, Reason, Recognition, in_percent
from flueproof.shop.records.jobs.opening import SERIAL_UNKNOWN
from flueproof.shop.records.models import Analyzer, Job

_SHOWN, _EXPECTED = 9, 5
_LEAST: Final = 0.005
_REASONS: Final = 7
_WORDS: Final = ((0.95, "very likely"), (0.7, "likely"), (0.3, "perhaps"), (0.05, "unlikely"), (0.0, "very unlikely"))


@dataclass(frozen=True, slots=True)
class CandidateLine:
    """One candidate. choice: what its button sends; key: 1 to 9; bar: 0 to 100; said: reasons as (words, for it)."""

    key: int
    choice: str
    owner: str
    plate: str
    unit: str
    kind: str
    words: str
    percent: str
    bar: int
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    job: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True)
class Ranking:
    """All candidates that are worth showing; stranger: the share that none on file is it."""

    lines: tuple[CandidateLine, ...]
    sentence: str
    stranger: str
    stranger_words: str
    stranger_bar: int
    other: str
    sure: bool
    asked: bool


def ranking(found: Recognition) -> Ranking:
    """Return the ranking of a box; without a clue only the few that are most expected."""
    most = _EXPECTED if found.clues.empty else _SHOWN
    shown = [one for one in found.candidates if one.probability >= _LEAST][:most]
    units = [one.analyzer.key for one in shown if one.analyzer is not None]
    facts = _facts(units)
    lines = tuple(_line(number, one, facts) for number, one in enumerate(shown, 1))
    return Ranking(
        lines,
        found.in_one_sentence.replace(" %", "\u00a0%"),
        in_percent(found.stranger),
        likely_in_words(found.stranger),
        round(100 * found.stranger),
        in_percent(found.other) if found.other >= _LEAST else "",
        bool(shown) and shown[0].probability >= _WORDS[0][0],
        not found.clues.empty,
    )


def likely_in_words(probability: float) -> str:
    """Return a probability in words."""
    return next(words for least, words in _WORDS if probability >= least)


def _facts(units: list[Any]) -> dict[Any, tuple[str, str]]:
    """Return for analyzers the number of the open job, and where they were reported."""
    jobs = Job.objects.filter(analyzer__in=units, state__in=Job.OPEN).order_by()
    words = dict(Job.STATES)
    standing = {
        unit: f"{number}, {words[state]}" for unit, number, state in jobs.values_list("analyzer_id", "number", "state")
    }
    rows = Analyzer.objects.filter(pk__in=units).exclude(whereabouts="").order_by()
    missing = {row.pk: row.get_whereabouts_display() for row in rows}
    return {unit: (standing.get(unit, ""), missing.get(unit, "")) for unit in units}


def _line(number: int, one: Candidate, facts: dict[Any, tuple[str, str]]) -> CandidateLine:
    unit, request = one.analyzer, one.request
    job, missing = facts.get(unit.key, ("", "")) if unit is not None else ("", "")
    made = _make_and_model(unit.make, unit.model) if unit else ""
    if unit is None and request is not None:
        made = _make_and_model(request.make, request.model)
    plate = unit.serial if unit else request.serial if request else ""
    return CandidateLine(
        number,
        _choice(one),
        one.owner.name,
        plate.removeprefix(SERIAL_UNKNOWN) or ("serial not read yet" if unit else ""),
        made.strip(),
        _KINDS.get(one.kind, ""),
        likely_in_words(one.probability),
        one.in_percent,
        round(100 * one.probability),
        _said(one.reasons, speaks_for=True),
        _said(one.reasons, speaks_for=False),
        job,
        missing,
    )


def _make_and_model(make: str, model: str) -> str:
    """Return make and model; the make alone only where the model does not begin with it."""
    first = make.split(maxsplit=1)[0] if make.strip() else ""
    return model if first and model.startswith(first) else f"{make} {model}"


_KINDS: Final = {
    "new": "one that was never here",
    "requested": "announced, never here before",
    "sold-on": "on file as another owner's: sold on, or sent for them",
}


def _choice(one: Candidate) -> str:
    key: Any = one.owner.key
    unit = one.analyzer.key if one.analyzer is not None else None
    if one.kind == "known":
        return f"analyzer-{unit}"
    if one.kind == "sold-on":
        return f"sold-{unit}-{key}"
    asked: Any = one.request.key if one.request is not None else None
    if one.kind == "requested" and asked and asked[0] == "requested":
        return f"request-{asked[1]}"
    return f"owner-{key}" if one.owner.on_file else f"sender-{key[1]}"


def _said(reasons: tuple[Reason, ...], *, speaks_for: bool) -> tuple[str, ...]:
    wanted = [one for one in reasons if (one.weight >= 0.2 if speaks_for else one.weight <= -0.2)]
    return tuple(f"{one.words} ({one.strength})" for one in wanted[:_REASONS])
