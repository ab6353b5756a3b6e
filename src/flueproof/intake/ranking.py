"""Ranks whose a box may be: every clue weighed for every candidate, against a stranger and against all others."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Hashable
from dataclasses import dataclass

from flueproof.intake.assumptions import DEFAULT, Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile
from flueproof.intake.file.roster import Roster, Totals
from flueproof.intake.recognition import Candidate, OwnerShare, Reason, Recognition
from flueproof.intake.weighing.expecting import Expectations, Expected
from flueproof.intake.weighing.plate import PlateWeigher
from flueproof.intake.weighing.sender import SenderWeigher

_MOST_ROWS, _MOST_OWNERS = 12, 8
_SOLD_PLATES, _SOLD_OWNERS = 8, 10


@dataclass(slots=True)
class _Row:
    owner: OwnerOnFile
    analyzer: AnalyzerOnFile | None
    request: OpenRequest | None
    kind: str
    weight: float
    prior: Expected
    on_file_as: str = ""


def rank(clues: Clues, roster: Roster, now: dt.date, assumed: Assumptions = DEFAULT) -> Recognition:
    """Return whose the box may be, with probabilities that add up to one and the reasons for each.

    now: a date or a moment; what is due and who called lately is seen from it.
    """
    today = now.date() if isinstance(now, dt.datetime) else now
    totals = roster.totals(today)
    owners = list(roster.candidates_for(clues, today))
    sender = SenderWeigher(clues, roster, owners, totals, assumed)
    plate = PlateWeigher(clues, roster, owners, totals, assumed)
    expected = Expectations(totals, today, assumed)
    said = {owner.key: sender.weigh(owner) for owner in owners}
    rows = [row for owner in owners for row in _rows(owner, said[owner.key], plate, expected)]
    other = _other(owners, rows, totals, assumed, plate) * math.exp(sender.of_unseen())
    sold, sold_to_stranger = _sold_on(owners, said, plate, totals, assumed)
    stranger = assumed.stranger + sold_to_stranger

    def reasons_of(row: _Row) -> tuple[Reason, ...]:
        found = [*said[row.owner.key], *plate.reasons(row.analyzer or row.request), *row.prior.reasons()]
        if row.kind == "new":
            found.append(
                Reason("kind", "an analyzer of theirs that is not on file", math.log(assumed.new / assumed.known))
            )
        if row.kind == "sold-on":
            words = f"the analyzer is on file as that of {row.on_file_as}: sold on, or sent for them"
            found.append(Reason("kind", words, math.log(assumed.sold_on / assumed.known)))
        return tuple(sorted(found, key=lambda reason: -abs(reason.weight)))

    return _recognition(clues, rows + sold, stranger, other, reasons_of)


def _rows(owner: OwnerOnFile, said: tuple[Reason, ...], plate: PlateWeigher, expected: Expectations) -> list[_Row]:
    """Return the rows of one owner: each analyzer on file, each that a request tells of, and a new one."""
    rows: list[_Row] = []

    from_sender = _sum(said)

    def add(analyzer: AnalyzerOnFile | None, request: OpenRequest | None, kind: str, prior: Expected) -> None:
        weight = math.log(max(prior.prior, 1e-300)) + from_sender + plate.weight(analyzer or request)
        rows.append(_Row(owner, analyzer, request, kind, weight, prior))

    for analyzer in owner.analyzers:
        named = next((request for request in owner.requests if request.analyzer == analyzer.key), None)
        add(analyzer, named, "known", expected.known(owner, analyzer))
    for request in owner.requests:
        if request.analyzer is None and request.serial:
            add(None, request, "requested", expected.requested(request))
    add(None, None, "new", expected.new(owner))
    return rows


def _other(
    owners: list[OwnerOnFile], rows: list[_Row], totals: Totals, assumed: Assumptions, plate: PlateWeigher
) -> float:
    """Return the weight of all owners on file that were not looked at, by what is expected and by their analyzers."""
    seen = sum(len(owner.analyzers) for owner in owners)
    left = max(0, totals.analyzers - seen)
    if totals.owners <= sum(owner.on_file for owner in owners):
        return 0.0
    known = max(0.0, assumed.known - sum(row.prior.prior for row in rows if row.kind == "known"))
    new = max(0.0, assumed.new - sum(row.prior.prior for row in rows if row.kind == "new"))
    return (known / left * plate.of_unseen(left) if left else 0.0) + new


def _sold_on(
    owners: list[OwnerOnFile],
    said: dict[Hashable, tuple[Reason, ...]],
    plate: PlateWeigher,
    totals: Totals,
    assumed: Assumptions,
) -> tuple[list[_Row], float]:
    """Return rows of analyzers that another owner sends, and the weight of those that a stranger sends."""
    plates = [(plate.weight(analyzer), analyzer, owner) for owner in owners for analyzer in owner.analyzers]
    plates.sort(key=lambda entry: -entry[0])
    senders = sorted(owners, key=lambda owner: -_sum(said[owner.key]))[:_SOLD_OWNERS]
    each = assumed.sold_on / max(1, totals.analyzers)
    rows: list[_Row] = []
    stranger = sum((1.0 - assumed.sold_to_known) * each * math.exp(weight) for weight, _, _ in plates)
    for fits, analyzer, first in plates[:_SOLD_PLATES]:
        for owner in senders:
            if owner.key != first.key:
                share = max(1, len(owner.analyzers)) / max(1, totals.analyzers)
                prior = each * assumed.sold_to_known * share
                weight = math.log(prior) + _sum(said[owner.key]) + fits
                rows.append(_Row(owner, analyzer, None, "sold-on", weight, Expected(prior), first.name))
    return rows, stranger


def _recognition(
    clues: Clues,
    rows: list[_Row],
    stranger: float,
    other: float,
    reasons_of: Callable[[_Row], tuple[Reason, ...]],
) -> Recognition:
    """Return the answer; only what is shown is put into words."""
    weights = [math.exp(min(row.weight, 600.0)) for row in rows]
    total = sum(weights) + stranger + other
    order = sorted(range(len(rows)), key=lambda at: -weights[at])
    by_owner: dict[Hashable, float] = {}
    firsts: dict[Hashable, int] = {}
    for at in order:
        key = rows[at].owner.key
        by_owner[key] = by_owner.get(key, 0.0) + weights[at] / total
        firsts.setdefault(key, at)
    best = sorted(by_owner, key=lambda key: -by_owner[key])[:_MOST_OWNERS]
    shown = dict.fromkeys(order[:_MOST_ROWS] + [firsts[key] for key in best])
    made = {
        at: Candidate(row.owner, row.analyzer, row.request, row.kind, weights[at] / total, reasons_of(row))
        for at in shown
        if (row := rows[at])
    }
    shares = tuple(OwnerShare(rows[firsts[key]].owner, by_owner[key], made[firsts[key]]) for key in best)
    return Recognition(clues, tuple(made[at] for at in order[:_MOST_ROWS]), shares, stranger / total, other / total)


def _sum(reasons: tuple[Reason, ...]) -> float:
    return sum(reason.weight for reason in reasons)
