"""A station with its token, a visit at it, a cylinder, and what runs there."""

import hashlib

import pytest

from flueproof.shop.records.models import ApiToken, Station
from flueproof.shop.records.visits.applications import begin_application, mark_gas_on
from flueproof.shop.records.visits.opening import open_visit
from shop.cylinders import make_cylinder

SECRET = "a-token-of-the-tests-0001"  # noqa: S105 -- opens a test database only
PLAN = {
    "kind": "test-gas",
    "phase": "as-found",
    "point": "co-mid",
    "channels": [{"channel": "o2", "unit": "%", "step": 0.1}, {"channel": "co", "unit": "ppm", "step": 1}],
    "path": {"feed": "tip", "probe": "owner"},
    "feed": {"supply_l_min": 1.5, "vent_open": True},
}


@pytest.fixture
def station(db):
    return Station.objects.create(name="Bench 1", agent="bench-1")


@pytest.fixture
def token(station, people):
    return ApiToken.objects.create(
        name="Agent at bench 1",
        beginning=SECRET[:8],
        sha256=hashlib.sha256(SECRET.encode()).hexdigest(),
        rights=["capture"],
        station=station,
        person=people["manager"],
    )


@pytest.fixture
def cylinder(db):
    return make_cylinder("cyl-co-500")


@pytest.fixture
def visit(job, people, shop, station, now):
    made = open_visit(job, people["technician"], now, shop)
    made.station = station
    made.save(update_fields=["station"])
    return made


@pytest.fixture
def application(visit, cylinder, people, now):
    made = begin_application(visit, PLAN, cylinder, people["technician"], now)
    mark_gas_on(made, now)
    return made
