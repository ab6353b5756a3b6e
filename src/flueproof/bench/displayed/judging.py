"""What the figures of the display follow, as part of the judgement: information, it never makes anything conform."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from flueproof.bench.displayed.looks import Look, looks_of
from flueproof.bench.judgement import DisplayedFigures, Note
from flueproof.chemistry.displayed.explaining import Finding, examine_display
from flueproof.chemistry.displayed.telling import finding_in_words
from flueproof.chemistry.errors import ChemistryError

if TYPE_CHECKING:
    from flueproof.bench.record.record import Record

FOLLOWS_AS_SET: Final = frozenset({"as-set", "cannot"})


def displayed_figures(record: Record) -> tuple[DisplayedFigures, ...]:
    """Return one finding per look at computed figures.

    Source: own rules (chemistry.displayed); the formulas' own sources.
    """
    return tuple(_judged(look) for look in looks_of(record))


def displayed_notes(figures: tuple[DisplayedFigures, ...]) -> list[Note]:
    """Return a note for each look that follows another formula, fuel or temperature than it should; none blocks.

    Source: own rules.
    """
    return [
        Note("display-does-not-fit", " ".join(one.text[:1]), one.steps[0])
        for one in figures
        if one.kind not in FOLLOWS_AS_SET and not (one.kind == "fuel" and one.fuel is None)
    ]


def _judged(look: Look) -> DisplayedFigures:
    try:
        display = look.display()
        finding = examine_display(display)
        said = finding_in_words(display, finding)
    except ChemistryError as error:
        finding, said = Finding("cannot", None, None, {}, {}, ()), (f"Nothing could be recomputed: {error}",)
    words = list(said)
    if look.fuel_set and finding.kind == "fuel" and look.display().fuel is None:
        words[0] = f"The fuel that is set, {look.fuel_set!r}, is none known here. {words[0]}"
    if look.unread:
        words.append(f"Not understood and left aside: {'; '.join(look.unread)}.")
    return DisplayedFigures(
        steps=tuple(look.steps),
        phase=look.phase,
        fuel=look.fuel_set,
        kind=finding.kind,
        as_if_fuel=finding.fuel.key if finding.fuel is not None else None,
        as_if_air_c=finding.air_c,
        follows={quantity: [one.key for one in told] for quantity, told in finding.follows.items()},
        unexplained=finding.unexplained,
        text=tuple(words),
    )
