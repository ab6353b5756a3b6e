"""From a failed visit to the told owner, and from a wrong bottle to the letters, in a real browser."""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
TESTS = str(Path(__file__).resolve().parents[2])
MAKE = """
from django.utils import timezone
from flueproof.shop.records.duties.arising import duty_of_visit
from flueproof.shop.records.models import *
from shop.at_the_bench import demo_named, fed, fill_rack, job_of
shop = Shop.here()
shop.name, shop.address, shop.phone = "Harrow Lane Test Bench (invented)", ["1 Harrow Lane", "Port Alder"], "555-0199"
shop.email = "bench@harrow.example"
shop.save()
signer = Person.objects.create_user("signer", password="Seven-grey-herons-4", first_name="S.", last_name="Alder",
                                    role="signer")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@tidewater.example")
OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
now = timezone.now()
for name in ("co-cell-low", "healthy"):
    demo = demo_named(name)
    visit = fed(demo, job_of(demo, firm, now), signer, now, shop)
    duty_of_visit(visit, now)
row = fill_rack()["CYL-CO-500"]
row.code, row.content = "cyl-co-500", demo_named("healthy").record["references"]["cyl-co-500"]
row.save()
"""
SIZES = (("desk", 1280, 800), ("tablet", 820, 1180), ("phone", 390, 844))


@pytest.fixture(scope="module")
def running(tmp_path_factory):
    make = f"import sys; sys.path.insert(0, {TESTS!r})\n{MAKE}"
    with running_shop(tmp_path_factory.mktemp("duties"), make=make) as shop:
        yield shop


@pytest.fixture
def page(running, chromium):
    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    made = context.new_page()
    made.goto(running.address + "/sign-in")
    made.fill("[name=username]", "signer")
    made.fill("[name=password]", PASSWORD)
    made.click("main button")
    made.wait_for_load_state("networkidle")
    yield made
    context.close()


def sound(page):
    """Check a page in every size and theme: axe finds nothing, nothing sticks out."""
    for name, width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (page.url, name)
    page.set_viewport_size({"width": 1280, "height": 800})
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        found = Axe().run(page).response["violations"]
        assert found == [], (page.url, theme, [one["id"] for one in found])


def test_from_the_failed_visit_to_the_told_owner(page, running):
    page.goto(running.address + "/")
    page.locator(".today-line a").click()
    page.get_by_role("heading", name="Owners to be told").wait_for()
    sound(page)
    page.keyboard.press("c")
    page.get_by_role("heading", name="What to say").wait_for()
    sound(page)
    page.fill("[name=whom]", "Ada Quay")
    page.fill("#tell_words", "stops using it")
    page.keyboard.press("F2")
    page.get_by_text("Done.").wait_for()
    page.goto(running.address + "/duties/?state=told")
    assert "Told: Ada Quay, by phone" in page.locator("main").inner_text()


def test_from_the_wrong_bottle_to_the_letters(page, running):
    page.goto(running.address + "/gas/reference/cyl-co-500")
    page.keyboard.press("w")
    page.fill("[name=how]", "The filler recalled it (invented).")
    sound(page)
    page.fill("[name=co_value]", "580")
    page.keyboard.press("F2")
    page.locator("h1", has_text="found wrong").wait_for()
    if page.get_by_role("button", name="Judge the next 20 now").count():
        page.keyboard.press("j")
    page.get_by_text("visits judged again.").wait_for()
    sound(page)
    page.keyboard.press("l")
    page.get_by_text("written into the outbox").wait_for()
    assert "overtaken" in page.locator("main").inner_text()
    page.locator("tbody th a.plate").first.click()
    page.get_by_role("heading", name="Before and after").wait_for()
    sound(page)
