"""What the core says of a visit as it stands: the judgement, what is still open, and the next useful test."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.errors import BenchError
from flueproof.bench.judge.judge import Examination, examine_record
from flueproof.bench.judgement import RULES_VERSION, Judgement
from flueproof.bench.next_test.gases import litres_spent
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.next_test.proposing import next_test
from flueproof.bench.record.reader import record_from_json
from flueproof.bench.record.record import Record
from flueproof.shop.records.gas.admitting import condition_of
from flueproof.shop.records.models import Reference, Visit
from flueproof.shop.records.visits.made_once import made_once
from flueproof.shop.records.visits.projection import PROBE_STEP, record_tree
from flueproof.shop.records.visits.rules.phase import phase_of
from flueproof.shop.records.visits.rules.skipping import without_skipped


@dataclass(frozen=True, slots=True)
class Judged:
    """A visit as it stands.

    tree: the record as JSON; record, judgement, examination: None before the first step; proposal: the next useful
    test with what stands on the gas rack, less the points left out; cannot: why it cannot be judged, in words;
    last_position, last_hash: the event row all this rests on; phase: of a measurement made now; litres_left: of the
    visit's gas budget [L].
    """

    tree: dict[str, Any]
    profile: Profile
    record: Record | None
    judgement: Judgement | None
    proposal: Proposal | None
    cannot: str
    last_position: int
    last_hash: str
    phase: str = "as-found"
    examination: Examination | None = None
    litres_left: float = 0.0


def judged(visit: Visit, day: date | None = None) -> Judged:
    """Return the judgement of a visit, computed once for each state of its record and of the gas rack.

    day: on which the next test would be made; the day of the last event when it is left out.
    """
    last = visit.events.order_by("-position").values_list("position", "hash", "at").first()
    position, last_hash, at = last or (0, "", visit.opened_at)
    rack = list(Reference.objects.filter(state="in-use"))
    standing = hashlib.sha256(repr([(one.pk, one.version) for one in rack]).encode()).hexdigest()[:16]
    on = day or at.date()
    state = f"{last_hash}-{RULES_VERSION}-{visit.budget_l}-{standing}"
    return made_once(f"judged-{visit.pk}-{on}", state, lambda: _judge(visit, position, last_hash, rack, on))


def _judge(visit: Visit, position: int, last_hash: str, rack: list[Reference], day: date) -> Judged:
    tree = record_tree(visit)
    profile = shipped_profile(tree["analyzer"]["profile"]["name"])
    record = record_from_json(tree) if tree["steps"] else None
    phase = phase_of(record)
    spent = litres_spent(record, profile) if record is not None else 0.0
    seen = proposal = None
    cannot = ""
    try:
        seen = examine_record(record, profile) if record is not None else None
        asked = without_skipped(profile, record, phase)
        proposal = _proposal(visit, tree, asked, rack, day, seen if asked is profile else None)
    except BenchError as error:
        cannot = str(error)
    judgement = seen.judgement if seen is not None else None
    left = max(visit.budget_l - spent, 0.0)
    return Judged(tree, profile, record, judgement, proposal, cannot, position, last_hash, phase, seen, left)


def _proposal(
    visit: Visit,
    tree: Mapping[str, Any],
    profile: Profile,
    rack: Collection[Reference],
    day: date,
    seen: Examination | None,
) -> Proposal:
    """Propose from the record with all that stands on the rack; what is not used is never written into the record."""
    usable = [one for one in rack if condition_of(one, day) == ""]
    references = {**tree["references"], **{one.code: one.as_in_record() for one in usable}}
    probe = {**PROBE_STEP, "at": (visit.opened_at - timedelta(seconds=1)).isoformat()}
    record = record_from_json({**tree, "references": references, "steps": tree["steps"] or [probe]})
    at_hand = frozenset(one.code for one in usable)
    return next_test(record, profile, budget_l=visit.budget_l, at_hand=at_hand, seen=seen)
