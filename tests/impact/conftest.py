"""Analyzers whose truth is known, judged on a simulated bench; and errors taken as exactly known, for tables."""

import datetime as dt

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.record.reader import record_from_json
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.impact.correcting.convention import Convention
from flueproof.impact.found.field_errors import ChannelFinding, FieldErrors, Hypothesis
from flueproof.impact.found.lines import known_lines
from flueproof.impact.found.temperature import TemperatureError
from flueproof.simulate.bench_visit import BenchVisit
from flueproof.simulate.demo_visits.rack import record_head
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.population import usual_plan
from flueproof.simulate.truth import Truth
from flueproof.simulate.visit_log import Style

START = dt.datetime(2026, 11, 3, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
REFERENCES = ("cyl-co-500", "can-co-100", "cyl-co-o2", "therm-1", "therm-air", "mano-1")


def simulated(
    truth=None, *, plan=usual_plan, seed=1, profile="two-cell-residential", room=None, references=REFERENCES, **style
):
    """Return (record, profile, visit) of an analyzer with a known truth after a bench visit."""
    chosen = shipped_profile(profile) if isinstance(profile, str) else profile
    head = record_head(
        chosen,
        job=f"J-2026-{seed:05d}",
        number=seed,
        received={"date": "2026-11-02"},
        order={"service": "verify-adjust"},
        references=references,
    )
    visit = BenchVisit(
        truth or Truth(), chosen, head, np.random.default_rng(seed), START, "tester", Style(**style), room or Room()
    )
    visit.room()
    visit.zeroing()
    plan(visit)
    return record_from_json(visit.record()), chosen, visit


def exactly(*, stack_k=0.0, air_k=0.0, **lines):
    """Return errors taken as exactly known: for comparison with tables."""
    return FieldErrors(
        hypotheses=(Hypothesis("", known_lines(**lines)),),
        stack=_constant(stack_k, 200.0),
        air=_constant(air_k, 20.0),
        stack_air=None,
        untested_k={},
        displays={},
        findings={name: ChannelFinding("measured") for name in ("o2", "co", "no", "stack", "air")},
        leak="none",
    )


def _constant(error_k, shown_c):
    shown = np.array([shown_c - 100.0, shown_c + 100.0])
    return TemperatureError(shown, np.full(2, error_k), np.zeros((2, 2)))


@pytest.fixture(name="bench", scope="session")
def _bench():
    return simulated


@pytest.fixture(name="known", scope="session")
def _known():
    return exactly


@pytest.fixture(name="gas", scope="session")
def _gas():
    return Convention(shipped_fuel("natural-gas-us"), "german-net", "exact")
