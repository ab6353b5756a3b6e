"""The cast of the shop's tests, and an analyzer with its job."""

import datetime as dt
import os
import shutil

import pytest
from django.core.cache import cache
from django.test import Client

from flueproof.shop.records.models import Analyzer, Cell, Job, Owner, OwnerAddress, OwnerContact, Person, Shop
from flueproof.shop.records.people.rights import ROLES

NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)
PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a test database
NAMES = {
    "counter": ("C.", "Marsh"),
    "technician": ("R.", "Vale"),
    "signer": ("S.", "Alder"),
    "manager": ("M.", "Reed"),
    "owner": ("O.", "Quay"),
}


@pytest.fixture(autouse=True)
def _empty_cache():
    """Each test reads the shop's settings and judgements anew."""
    cache.clear()
    yield
    cache.clear()


@pytest.fixture
def now():
    return NOW


@pytest.fixture
def shop(db):
    return Shop.objects.create(
        pk=1, name="Harrow Lane Test Bench (invented)", address=["1 Harrow Lane", "Port Alder"], method="FGA-1 rev 3"
    )


@pytest.fixture
def owner(db):
    """A firm that agreed to due dates, with one person and one address."""
    firm = Owner.objects.create(name="Tidewater Heating (invented)", due_agreed=True)
    OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@tidewater.example")
    OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
    return firm


@pytest.fixture
def people(db, owner):
    """One person of each role, by role; all with the same password."""
    made = {}
    for role in ROLES:
        first, last = NAMES[role]
        made[role] = Person.objects.create_user(
            role,
            password=PASSWORD,
            first_name=first,
            last_name=last,
            role=role,
            owner=owner if role == "owner" else None,
        )
    return made


@pytest.fixture
def analyzer(db, owner):
    made = Analyzer.objects.create(
        owner=owner, make="Orrin", model="Orrin 5", serial="O5-20417", profile="two-cell-residential"
    )
    Cell.objects.create(analyzer=made, gas="o2", serial="A1", made="2024-06", fitted=dt.date(2024, 10, 2))
    Cell.objects.create(analyzer=made, gas="co", serial="B7", fitted=dt.date(2022, 9, 14))
    return made


@pytest.fixture
def job(db, owner, analyzer):
    return Job.objects.create(
        number="J-2026-00042",
        owner=owner,
        analyzer=analyzer,
        state="arrived",
        due_wanted=True,
        complaint="O2 reads high",
        enclosed=["probe", "hose", "trap", "air sensor"],
        condition="used, dry",
        received_on=dt.date(2026, 11, 24),
        promised_on=dt.date(2026, 12, 1),
        opened_at=NOW,
    )


def signed_in(person):
    """Return a client in which a person is signed in."""
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def client_of(people):
    """Return a function role -> signed-in client; `client_of("stranger")` is nobody."""
    return lambda role: Client() if role == "stranger" else signed_in(people[role])


@pytest.fixture
def counter_client(people):
    return signed_in(people["counter"])


@pytest.fixture
def technician_client(people):
    return signed_in(people["technician"])


@pytest.fixture
def signer_client(people):
    return signed_in(people["signer"])


@pytest.fixture
def manager_client(people):
    return signed_in(people["manager"])


@pytest.fixture
def owner_client(people):
    return signed_in(people["owner"])


QUIET = ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run"]


@pytest.fixture(scope="session")
def chromium():
    """One headless browser for all browser tests of a run: a second one in the same process cannot be had."""
    from playwright.sync_api import sync_playwright

    path = os.environ.get("BROWSER_PATH") or shutil.which("chromium")
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=path, args=QUIET)
        yield started
        started.close()
