"""What the record says was done: the steps that count, their dates, and the work beside the measuring."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Final

from flueproof.bench.record.steps.surroundings import SettingsStep
from flueproof.bench.record.steps.work import AdjustStep, DrainStep, PartStep, UpkeepStep
from flueproof.papers.content.display import name_of, plain_number, unit_sign
from flueproof.papers.due import date_in_words

GASES: Final = frozenset({"o2", "co", "no", "no2", "so2", "co2", "h2"})

if TYPE_CHECKING:
    from flueproof.bench.record.record import Record
    from flueproof.bench.record.steps.kinds import AnyStep


def item_name(record: Record) -> str:
    """Return maker and model, the maker once where the model's name begins with it.

    Source: common practice, no source.
    """
    analyzer = record.analyzer
    return analyzer.model if analyzer.model.startswith(analyzer.make) else f"{analyzer.make} {analyzer.model}"


def work_dates(record: Record) -> tuple[date, date]:
    """Return the first and the last day of the work, in the offset the bench wrote.

    Source: common practice, no source.
    """
    days = sorted(step.at.date() for step in record.standing_steps() if step.kind not in {"strike", "note", "photo"})
    return (days[0], days[-1]) if days else (record.received.date, record.received.date)


def done_in_words(record: Record) -> str:
    """Return the days of the work as text: "3 November 2026", or the first and the last day.

    Source: common practice, no source.
    """
    first, last = work_dates(record)
    return date_in_words(first) if first == last else f"{date_in_words(first)} to {date_in_words(last)}"


def was_adjusted(record: Record) -> bool:
    """Return whether an adjustment that the analyzer accepted counts in the record.

    Source: bench record, format 1 (own format).
    """
    return any(isinstance(step, AdjustStep) and step.accepted for step in record.standing_steps())


def was_repaired(record: Record) -> bool:
    """Return whether work on parts counts in the record.

    Source: bench record, format 1 (own format).
    """
    return any(isinstance(step, PartStep) for step in record.standing_steps())


def work_lines(record: Record) -> list[str]:
    """Return one line per adjustment, part, upkeep and changed setting, in order.

    Source: common practice, no source.
    """
    return [line for step in record.standing_steps() if (line := _line(step))]


def _line(step: AnyStep) -> str | None:
    if isinstance(step, AdjustStep):
        return _adjustment(step)
    if isinstance(step, PartStep):
        serial = f", serial {step.serial}" if step.serial else ""
        return f"{step.done.capitalize()}: {_part(step.what)}{serial}{'; case opened' if step.opened_case else ''}."
    if isinstance(step, UpkeepStep):
        done = {"cleaned": "Cleaned", "reseated": "Reseated", "new-filter": "New filter"}[step.done]
        return done + (f": {step.what}." if step.what else ".")
    if isinstance(step, DrainStep):
        return "Condensate drained."
    if isinstance(step, SettingsStep) and step.changed:
        return "Settings changed: " + ", ".join(f"{key} {value}" for key, value in step.changed.items()) + "."
    return None


def _part(what: str) -> str:
    """Return a part's name with its gas as the papers write it: "co cell" is "CO cell"."""
    first, blank, rest = what.partition(" ")
    return name_of(first) + blank + rest if first in GASES else what


def replaced_cells(record: Record) -> frozenset[str]:
    """Return the gases whose cell was replaced in this record.

    Source: bench record, format 1 (own format).
    """
    parts = (step for step in record.standing_steps() if isinstance(step, PartStep) and step.done == "replaced")
    words = (part.what.lower().split() for part in parts)
    return frozenset(word for said in words if "cell" in said for word in said if word in GASES)


def _adjustment(step: AdjustStep) -> str:
    said = f"Adjusted {name_of(step.channel)}" if step.accepted else f"Tried to adjust {name_of(step.channel)}"
    if step.entered is not None:
        said += f", {plain_number(step.entered.value)} {unit_sign(step.entered.unit)} entered at the display"
    if step.reference is None:
        said += ", in air"
    return said + ("." if step.accepted else "; the analyzer refused.")
