"""A demo shop under the real server; who signs in how."""

import pytest

from shop.serving import running_shop

BUILD = """
from django.utils import timezone
from flueproof.shop.demo_shop.building import build_demo_shop
build_demo_shop(timezone.localtime())
"""


@pytest.fixture(scope="session")
def demo_shop(tmp_path_factory):
    """A demo shop that is being served."""
    with running_shop(tmp_path_factory.mktemp("demo"), make=BUILD) as shop:
        yield shop


@pytest.fixture(scope="session")
def demo_address(demo_shop):
    return demo_shop.address


@pytest.fixture
def signed_in(chromium, demo_address):
    """Return a function user -> page signed in as that person; console errors fail the test at the end."""
    from flueproof.shop.demo_shop.password import DEMO_PASSWORD

    contexts, errors = [], []

    def open_page(user, *, width=1280, height=800, scheme="light", at=demo_address):
        context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(at + "/sign-in")
        page.locator("input[name=username]").fill(user)
        page.locator("input[name=password]").fill(DEMO_PASSWORD)
        page.keyboard.press("Enter")
        page.wait_for_url(at + "/")
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert errors == []
