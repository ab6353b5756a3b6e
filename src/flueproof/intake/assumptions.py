"""How readings go wrong and who sends boxes: the figures the ranking believes until a shop knows better.

All of them are our own assumptions, no source; they were set by judgement and rounded, and looked at on seeds of
the simulation that no report uses (docs/guide/recognising.md says which).
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Reading:
    """How a plate is read: shares per character, or per serial where it says so."""

    lookalike: float
    wrong: float
    unreadable: float
    dropped: float = 0.004
    added: float = 0.002
    swapped: float = 0.003
    start_gone: float = 0.0
    end_gone: float = 0.0
    run: float = 0.0


@dataclass(frozen=True, slots=True)
class Assumptions:
    """The figures.

    known, new, stranger, sold_on: shares of boxes; asked, called, due: of the known, why they come; *_right: how often
    a clue is what is on file; again: how much less often a box holds an analyzer that is in the shop already (a second
    box of it, or a slip of the pen in the file).
    """

    known: float = 0.75
    new: float = 0.10
    stranger: float = 0.13
    sold_on: float = 0.02
    sold_to_known: float = 0.5
    asked: float = 0.30
    called: float = 0.20
    due: float = 0.28
    due_spread_days: float = 28.0
    new_asked: float = 0.28
    new_called: float = 0.22
    request_right: float = 0.95
    again: float = 0.1
    worn: float = 0.35
    clear_plate: Reading = field(default_factory=lambda: Reading(0.03, 0.005, 0.0))
    worn_plate: Reading = field(
        default_factory=lambda: Reading(0.07, 0.015, 0.27, start_gone=0.16, end_gone=0.2, run=0.08)
    )
    model_right: float = 0.80
    model_begun: float = 0.15
    make_right: float = 0.98
    firm_unlisted: float = 0.07
    person_unlisted: float = 0.43
    person_as_firm: float = 0.07
    word_right: float = 0.86
    word_slip: float = 0.035
    word_short: float = 0.10
    word_left_out: float = 0.25
    word_extra: float = 0.03
    at_home: float = 0.83
    in_area: float = 0.11
    postmark_area: float = 0.86
    phone_on_file: float = 0.66
    phone_prefix: float = 0.6
    named_for_town: float = 0.08
    email_on_file: float = 0.5
    email_domain: float = 0.25


DEFAULT = Assumptions()
