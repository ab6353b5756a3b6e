"""A served shop for all tests here, each test at a visit of its own."""

import itertools

import pytest

from shop.serving import running_shop

from .bench_online import CSRF, SESSIONS, Place, make_code

VISITS = 40
_numbers = itertools.count()


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """A shop under its production server."""
    with running_shop(tmp_path_factory.mktemp("live"), make=make_code(VISITS)) as shop:
        yield shop


@pytest.fixture
def place(served):
    """A visit at its station at the served shop; nothing runs there yet."""
    number = next(_numbers)
    assert number < VISITS, "make more visits"
    return Place(served.address, number)


@pytest.fixture
def at_bench(chromium, served):
    """Return a function place -> page of its bench, signed in; all pages share one browser context, as tabs do."""
    from playwright.sync_api import expect

    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    cookies = {"sessionid": SESSIONS["technician"], "csrftoken": CSRF}
    context.add_cookies([{"name": name, "value": value, "url": served.address} for name, value in cookies.items()])
    errors = []

    def open_page(place):
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{served.address}/bench/J-2026-{place.number:05d}/")
        page.locator("[data-live]").first.wait_for(state="attached")
        if place.application:  # the modules are there and at work once the timer names its next call
            expect(page.locator("[data-next-call]").first).not_to_be_empty(timeout=15_000)
        return page

    yield open_page
    context.close()
    assert errors == []
