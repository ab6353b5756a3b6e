"""The Parts page in a real browser: receiving and counting by scanner and keys only, every width and theme."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from shop.serving import running_shop

pytestmark = pytest.mark.browser
PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
PATHS = (
    "/parts/",
    "/parts/1/",
    "/parts/lots/1/",
    "/parts/receive",
    "/parts/out",
    "/parts/count?code=P-1",
    "/parts/picking",
    "/parts/new",
)
MAKE = """
from django.utils import timezone
from flueproof.shop.records.models import Part, Person, Shop
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive
Shop.here()
by = Person.objects.create_user("vale", password="Seven-grey-herons-4", role="technician")
pump = Part.objects.create(code="PUMP-1", title="pump", kind="pump", scan_code="40090001")
receive(pump, Delivery("P-1", 3), Pen(by, timezone.now()))
"""


@pytest.fixture
def page(chromium, tmp_path):
    """The store, signed in; console errors fail the test at the end."""
    errors = []
    with running_shop(tmp_path / "parts", make=MAKE) as shop:
        context = chromium.new_context(viewport={"width": 1280, "height": 800})
        opened = context.new_page()
        opened.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        opened.on("pageerror", lambda error: errors.append(str(error)))
        opened.goto(shop.address + "/sign-in")
        opened.locator("input[name=username]").fill("vale")
        opened.locator("input[name=password]").fill(PASSWORD)
        opened.keyboard.press("Enter")
        opened.wait_for_url(shop.address + "/")
        opened.home = shop.address
        yield opened
        context.close()
    assert [text for text in errors if "422" not in text] == []


def scan(page, text):
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def test_receiving_and_counting_by_scanner_and_keys_and_no_page_has_an_axe_finding(page):
    page.goto(page.home + "/parts/receive")
    scan(page, "40090001")
    page.keyboard.press("Tab") if page.evaluate("document.activeElement.name") == "code" else None
    assert page.evaluate("document.activeElement.name") == "lot"
    scan(page, "P-2")
    assert page.evaluate("document.activeElement.name") == "count"
    page.keyboard.type("4")
    page.keyboard.press("F2")
    expect(page.locator("#messages")).to_contain_text("4 pieces of PUMP-1, lot P-2")
    page.goto(page.home + "/parts/count")
    scan(page, "P-2")
    expect(page.locator(".figure.giant")).to_contain_text("4")
    page.keyboard.type("3")
    page.keyboard.press("Enter")
    expect(page.locator(".wrong")).to_contain_text("1 fewer than the books say")
    page.get_by_label("If it differs: why").fill("broken")
    page.keyboard.press("Enter")
    expect(page.locator("#messages")).to_contain_text("lot P-2: 3")
    for size, scheme in (({"width": 1280, "height": 800}, "light"), ({"width": 820, "height": 1180}, "dark")):
        page.set_viewport_size(size)
        page.emulate_media(color_scheme=scheme)
        for path in PATHS:
            assert page.goto(page.home + path).status == 200
            assert Axe().run(page).violations_count == 0, path
            assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path
