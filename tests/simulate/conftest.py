"""A quiet bench for the tests: one visit on chosen truth."""

import datetime as dt

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.truth import Truth
from flueproof.simulate.visit_log import Style

START = dt.datetime(2026, 11, 3, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
REFERENCES = ("cyl-co-500", "can-co-100", "cyl-co-o2", "therm-1", "therm-air", "mano-1", "flow-1")


def start_visit(truth=None, *, profile="two-cell-residential", references=REFERENCES, seed=1, room=None, **style):
    chosen = shipped_profile(profile)
    head = record_head(
        chosen,
        job="J-2026-00001",
        number=1,
        received={"date": "2026-11-02"},
        order={"service": "verify-adjust"},
        references=references,
    )
    visit = BenchVisit(
        truth or Truth(), chosen, head, np.random.default_rng(seed), START, "tester", Style(**style), room or Room()
    )
    visit.room()
    visit.zeroing()
    return visit


def shown_in(visit, channel, step=-1):
    return next(reading["shown"] for reading in visit.steps[step]["readings"] if reading["channel"] == channel)


@pytest.fixture(name="visit_on")
def _visit_on():
    return start_visit


@pytest.fixture(name="shown")
def _shown():
    return shown_in
