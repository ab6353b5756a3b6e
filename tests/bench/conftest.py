"""Visits on chosen truth, judged: the simulated bench does the steps, the judge reads the record."""

import datetime as dt
import json

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import judge_record
from flueproof.bench.record.reader import read_record
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.procedure import do_points
from flueproof.simulate.truth import StepResponse, Truth
from flueproof.simulate.visit_log import Style

START = dt.datetime(2026, 11, 3, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
RACK = ("cyl-co-500", "can-co-100", "cyl-co-o2", "therm-1", "therm-air", "mano-1")
QUICK = {"co": StepResponse(4.0, 7.0, 0.01, 45.0), "o2": StepResponse(4.0, 7.0, 0.01, 45.0)}


def start_visit(
    truth=None,
    *,
    profile="two-cell-residential",
    references=RACK,
    seed=1,
    room=None,
    received=None,
    order=None,
    **style,
):
    """Start a visit at the bench, room logged and unit switched on; cells are quick unless the truth says more."""
    chosen = shipped_profile(profile)
    head = record_head(
        chosen,
        job="J-2026-00001",
        number=1,
        received={"date": "2026-11-02", "enclosed": ["probe", "hose", "air sensor"]} | (received or {}),
        order={"service": "verify-adjust", "decision_rule": "risk-2"} | (order or {}),
        references=references,
    )
    truth = truth or Truth(gain={"co": 0.99}, responses=QUICK)
    generator = np.random.default_rng(seed)
    visit = BenchVisit(truth, chosen, head, generator, START, "tester", Style(**style), room or Room())
    visit.room()
    visit.zeroing()
    return visit


def judge(visit, **more):
    """Judge a visit, or a record given as plain JSON values."""
    tree = visit if isinstance(visit, dict) else visit.record()
    record = read_record(json.dumps(tree).encode())
    return judge_record(record, shipped_profile(tree["analyzer"]["profile"]["name"]), **more)


def whole_visit(truth=None, *, also=("air-one",), leave_out=(), instrument=False, **start):
    """Do every required point; with `instrument` the CO bottle straight at the inlet too."""
    visit = start_visit(truth, **start)
    do_points(visit, also=also, leave_out=leave_out)
    if instrument:
        visit.test_gas("cyl-co-500", "instrument")
    return visit


@pytest.fixture(name="start")
def _start():
    return start_visit


@pytest.fixture(name="visit")
def _visit():
    return whole_visit


@pytest.fixture(name="judge")
def _judge():
    return judge


@pytest.fixture(name="read")
def _read():
    def read(visit):
        tree = visit if isinstance(visit, dict) else visit.record()
        return read_record(json.dumps(tree).encode()), shipped_profile(tree["analyzer"]["profile"]["name"])

    return read


@pytest.fixture(name="truth")
def _truth():
    """Make a truth with quick cells, so that a test speaks of one thing."""

    def made(co=0.99, **more):
        return Truth(**{"gain": {"co": co}, "responses": QUICK} | more)

    return made


@pytest.fixture(name="doing")
def _doing():
    """Return the acts of a verdict in order, each with where or on which channel."""
    return lambda verdict: [(action.do, action.where or action.channel) for action in verdict.actions]
