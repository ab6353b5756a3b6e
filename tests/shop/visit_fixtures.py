"""A bench that is open, a rack, a visit; conftest files beside the tests import what they need."""

import datetime as dt
import uuid

import pytest
from django.utils import timezone

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.visits.events import add_reference, add_step
from flueproof.shop.records.visits.opening import open_visit
from shop.at_the_bench import fill_rack


@pytest.fixture
def rack(db):
    return fill_rack()


@pytest.fixture
def open_shop(shop):
    """A shop that asks for no morning check."""
    shop.morning_check_needed = False
    shop.save()
    return shop


@pytest.fixture
def began():
    """Two hours ago: pages record with the clock of the day, and a record's times never go back."""
    return timezone.now() - dt.timedelta(hours=2)


@pytest.fixture
def visit(open_shop, job, people, rack, began):
    """A visit on the bench, before its first step."""
    opened = open_visit(job, people["technician"], began, open_shop)
    move_job(job, "bench", people["technician"], began)
    opened.refresh_from_db()
    return opened


@pytest.fixture
def add(visit, people, rack):
    """Return a function that records steps as the page does, one after the other."""

    def add(kind, reference=None, **content):
        now = timezone.now()
        if reference is not None:
            add_reference(visit, rack[reference], people["technician"], now)
            content["reference"] = reference
        return add_step(visit, {"kind": kind, **content}, people["technician"], now)

    return add


@pytest.fixture
def ready(add, began):
    """The visit with water looked for, room logged, unit switched on long enough ago."""
    moments = [(began + dt.timedelta(minutes=minutes)).isoformat() for minutes in (0, 1, 2)]
    add("visual", text="Water: none seen in trap and hose.", at=moments[0])
    add("room", air={"unit": "degC", "value": 21.0}, room_co_ppm=0, at=moments[1])
    add("zeroing", where="bench", probe="on", at=moments[2])


@pytest.fixture
def gas(add):
    """Return a function that records the 500 ppm bottle at a place with what CO and O2 settle to."""

    def gas(co, o2=0.0, feed="tip", phase="as-found", **more):
        return add(
            "test-gas",
            "CYL-CO-500",
            phase=phase,
            path={"feed": feed} if feed == "instrument" else {"feed": feed, "probe": "owner"},
            feed={"supply_l_min": 1.8, "vent_open": True},
            readings=[
                {"channel": "o2", "unit": "%", "step": 0.1, "shown": [o2, o2]},
                {"channel": "co", "unit": "ppm", "step": 1, "shown": [co, co]},
            ],
            **more,
        )

    return gas


@pytest.fixture
def rest(add):
    """Return a function that records all needed points but gas, as they are on a healthy unit."""

    def rest(phase="as-found"):
        add("plug-test", phase=phase, path={"feed": "tip", "probe": "owner"}, pump="stalls", hiss_after_10_s=True)
        stack = {"channel": "stack", "unit": "degC", "step": 1, "shown": [200, 200]}
        value = {"unit": "degC", "value": 200.0}
        add("temperature", "THERM-1", phase=phase, channel="stack", of="probe", reference_value=value, readings=[stack])
        draft = {"channel": "draft", "unit": "Pa", "step": 1, "shown": [-25, -25]}
        drawn = {"unit": "Pa", "value": -25.0}
        add("pressure", "MANO-1", phase=phase, channel="draft", reference_value=drawn, readings=[draft])

    return rest


@pytest.fixture
def page_id():
    """The id a form of the page has."""
    return str(uuid.uuid4())
