"""Building the demo shop: the same people, analyzers and readings with every start, at dates that end today."""

from __future__ import annotations

import datetime as dt
import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from django.db import transaction

from flueproof.shop.demo_shop.cast import make_people, make_shop, make_stations
from flueproof.shop.demo_shop.filling.boxes import fill_boxes
from flueproof.shop.demo_shop.filling.duties import fill_duties
from flueproof.shop.demo_shop.filling.letters import fill_letters
from flueproof.shop.demo_shop.filling.parts import fill_parts
from flueproof.shop.demo_shop.filling.promises import fill_promises
from flueproof.shop.demo_shop.filling.requests import fill_requests
from flueproof.shop.demo_shop.filling.returns import fill_returns
from flueproof.shop.demo_shop.firms import make_analyzers, make_owners
from flueproof.shop.demo_shop.jobs import (
    HELD,
    ON_THE_BENCH,
    SIGNED_AND_GONE,
    SIGNED_AND_HERE,
    TO_SIGN,
    WAITING_FOR_PARTS,
    Scene,
    make_jobs_with_visits,
    make_other_open_jobs,
)
from flueproof.shop.demo_shop.rack import make_mornings, make_rack
from flueproof.shop.demo_shop.scenario import WRITTEN_FOR
from flueproof.shop.records.finding.indexing import reindex_everything
from flueproof.shop.records.models import Analyzer, Job, Owner, Paper, Reference
from flueproof.simulate.demo import demo_records

SEED: Final = 20263


@dataclass(frozen=True, slots=True)
class Built:
    """How much the demo shop holds."""

    owners: int
    analyzers: int
    open_jobs: int
    cylinders: int
    papers: int


def build_demo_shop(now: dt.datetime, tell: Callable[[str], None] = lambda _text: None) -> Built:
    """Fill an empty database with the demo, in one transaction.

    now: the moment that the scenario ends at, aware of its zone; tell: told each part in words.
    """
    chance = random.Random(SEED)  # noqa: S311 -- invented data, the same each time
    days = (now.date() - WRITTEN_FOR).days
    with transaction.atomic():
        tell("people and firms")
        shop = make_shop()
        owners = make_owners(chance)
        people = make_people(owners[0])
        make_stations()
        recorded = len({*SIGNED_AND_GONE, *SIGNED_AND_HERE, *TO_SIGN, *ON_THE_BENCH, *HELD, *WAITING_FOR_PARTS})
        analyzers = make_analyzers(owners, recorded, now.date(), chance)
        tell("gas rack and mornings")
        rack = make_rack(days, now, people["vale"])
        make_mornings(rack, analyzers[0], now, (people["vale"], people["osei"]), chance)
        tell("visits and papers")
        demos = {demo.name: demo for demo in demo_records()}
        scene = Scene(shop, people, demos, {owner.name: owner for owner in owners}, now, days, chance)
        make_jobs_with_visits(scene)
        make_other_open_jobs(scene, analyzers)
        tell("boxes, requests, promises and the way back")
        fill_requests(scene)
        fill_boxes(scene)
        fill_returns(scene)
        fill_letters(scene)
        tell("owners to be told")
        fill_duties(scene)
        tell("parts store")
        fill_parts(scene)
        fill_promises(scene)
        reindex_everything(lambda _kind, _rows: None)
    return Built(
        Owner.objects.count(),
        Analyzer.objects.count(),
        Job.objects.filter(state__in=Job.OPEN).count(),
        Reference.objects.filter(kind="test-gas").count(),
        Paper.objects.count(),
    )
