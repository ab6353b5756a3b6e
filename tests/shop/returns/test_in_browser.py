"""The way out in a real browser under the real server: packed by keys alone, quoted, shipped; every page sound."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from decimal import Decimal
from django.utils import timezone
from flueproof.shop.records.loans.pool import add_unit
from flueproof.shop.records.models import *
Shop.here()
by = Person.objects.create_user("manager", password="Seven-grey-herons-4", last_name="Reed", role="manager")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@quay.example")
OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
for place, state in enumerate(("to-return", "arrived"), 1):
    unit = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-2041{place}")
    Job.objects.create(number=f"J-2026-0000{place}", owner=firm, analyzer=unit, state=state, opened_at=timezone.now(),
                       enclosed=["probe", "hose"], received_on=timezone.localdate())
own = Owner.objects.create(name="Harrow Lane (invented)")
kept = Analyzer.objects.create(owner=own, make="Orrin", model="Orrin 5", serial="L5-00101")
add_unit(kept, "Loan 1", ["probe"], "", by)
PriceItem.objects.create(code="VA-1", words="verification", price=Decimal("165.00"), service="verify-adjust")
"""
SIZES = [(1280, 800, "light"), (820, 1180, "dark")]
PAGES = (
    "/jobs/J-2026-00001/way-back",
    "/jobs/J-2026-00001/pack-out",
    "/jobs/J-2026-00001/ship",
    "/jobs/J-2026-00002/send-on",
    "/jobs/J-2026-00002/unrepaired",
    "/jobs/J-2026-00002/quotes/new",
    "/shipments/",
    "/missing/?plate=O5",
    "/loans/",
    "/loans/units/1",
    "/prices/",
    "/prices/1",
    "/finished-jobs/",
    "/first-pass/",
)


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("returns"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture
def signed_in(chromium, address):
    """Return a function size -> page of the manager; errors of the console fail the test at the end."""
    contexts, errors = [], []

    def open_page(size=SIZES[0]):
        width, height, scheme = size
        contexts.append(chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme))
        page = contexts[-1].new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{address}/sign-in")
        page.fill("[name=username]", "manager")
        page.fill("[name=password]", PASSWORD)
        page.keyboard.press("Enter")
        page.wait_for_url(f"{address}/")
        return page

    yield open_page
    for context in contexts:
        context.close()
    refused = "the server responded with a status of 422"  # a form sent back with its reason
    assert [one for one in errors if refused not in one] == []


@pytest.mark.parametrize("size", SIZES, ids=["desk", "tablet"])
def test_every_page_of_the_way_out_is_sound(signed_in, address, size):
    page = signed_in(size)
    for path in PAGES:
        assert page.goto(address + path).status == 200
        assert Axe().run(page).response["violations"] == [], path
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path


def test_a_box_is_packed_and_shipped_by_keys_alone(signed_in, address):
    page = signed_in()
    page.goto(f"{address}/jobs/J-2026-00001/pack-out")
    page.locator("h1").click()
    page.keyboard.press("a")
    page.wait_for_selector("[name=part-1]:checked")
    for key in [one.get_attribute("data-key") for one in page.locator("input[type=checkbox][data-key]").all()]:
        page.keyboard.press(key)
        page.wait_for_selector(f'input[data-key="{key}"]:checked')
    page.keyboard.press("F4")
    page.wait_for_selector(".packed")
    page.locator("h1").click()
    page.keyboard.press("v")
    page.wait_for_url("**/ship")
    page.keyboard.type("Coastline", delay=80)  # as a hand types; what is faster is a scan
    page.keyboard.type("CL44021190")
    page.keyboard.press("Enter")
    expect(page.locator("[name=tracking]")).to_have_value("CL44021190")
    assert page.locator("[name=carrier]").input_value() == "Coastline"
    page.keyboard.press("F4")
    page.wait_for_url(f"{address}/jobs/J-2026-00001")
    page.wait_for_selector("text=CL44021190")
    page.locator("#delivered-to").fill("front desk")
    page.keyboard.press("F4")
    page.wait_for_selector(".tag .lines:has-text('returned')")
    assert page.locator("#delivered-to").count() == 0


def test_a_quote_is_written_from_the_list_and_answered_on_the_phone(signed_in, address):
    page = signed_in(SIZES[1])
    page.goto(f"{address}/jobs/J-2026-00002/quotes/new")
    page.locator("button[name=add]").first.click()
    page.wait_for_selector("#words-4")
    page.locator("#price-2").fill("1,5")
    page.keyboard.press("F4")
    page.wait_for_selector("#wrong-2")
    page.locator("#price-2").fill("150.50")
    page.keyboard.press("F4")
    page.wait_for_selector("text=Send it to the owner")
    assert "USD 315.50" in page.locator("tfoot").inner_text()
    page.locator("h1").click()
    page.keyboard.press("s")
    page.wait_for_selector("text=The owner answered on the phone")
    page.locator("[name=decision][value=approve]").check()
    page.locator("[name=decided_by]").fill("Ada Quay (invented)")
    page.keyboard.press("F4")
    page.wait_for_selector(".quote-state:has-text('approved')")
