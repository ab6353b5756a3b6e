"""What the core says of a visit as it stands: the judgement and the next useful test."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.core.cache import cache

from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.errors import BenchError
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.judgement import Judgement
from flueproof.bench.next_test.proposal import Proposal
from flueproof.bench.next_test.proposing import next_test
from flueproof.bench.record.reader import record_from_json
from flueproof.bench.record.record import Record
from flueproof.shop.records.models import Visit
from flueproof.shop.records.visits.projection import record_tree

_SECONDS = 3600


@dataclass(frozen=True, slots=True)
class Judged:
    """A visit as it stands.

    tree: the record as JSON; record, judgement, proposal: None before the first step; cannot: why it cannot be judged
    (yet), in words; last_hash: the event row all this rests on.
    """

    tree: dict[str, Any]
    profile: Profile
    record: Record | None
    judgement: Judgement | None
    proposal: Proposal | None
    cannot: str
    last_position: int
    last_hash: str


def judged(visit: Visit) -> Judged:
    """Return the judgement of a visit, computed once for each state of its record."""
    last = visit.events.order_by("-position").values_list("position", "hash").first() or (0, "")
    key = f"judged-{visit.pk}-{last[1]}-{visit.budget_l}"
    found: Judged | None = cache.get(key)
    if found is None:
        found = _judge(visit, *last)
        cache.set(key, found, _SECONDS)
    return found


def _judge(visit: Visit, position: int, last_hash: str) -> Judged:
    tree = record_tree(visit)
    profile = shipped_profile(tree["analyzer"]["profile"]["name"])
    if not tree["steps"]:
        return Judged(tree, profile, None, None, None, "", position, last_hash)
    record = record_from_json(tree)
    judgement = proposal = None
    cannot = ""
    try:
        judgement = judge_record(record, profile)
        proposal = next_test(record, profile, budget_l=visit.budget_l)
    except BenchError as error:
        cannot = str(error)
    return Judged(tree, profile, record, judgement, proposal, cannot, position, last_hash)
