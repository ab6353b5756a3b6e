"""The bench in a real browser under the real server: keys and scanner only, at 1280x800 and on a tablet."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
import datetime as dt
from django.utils import timezone
from flueproof.shop.records.models import Analyzer, Job, Owner, Person, Reference, Shop
now = timezone.now()
shop = Shop.here(); shop.morning_check_needed = False; shop.save()
Person.objects.create_user("vale", password="Seven-grey-herons-4", first_name="R.", last_name="Vale", role="technician")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
def day(days):
    return (timezone.localdate() + dt.timedelta(days=days)).isoformat()
gas = {"kind": "test-gas", "certificate": "LN-1", "balance": "nitrogen",
       "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}}}
for code, certified, expires in (("CYL-CO-500", -60, 300), ("CYL-OLD", -800, -10)):
    Reference.objects.create(code=code, kind="test-gas", title="CO 500 in nitrogen", state="in-use",
        content={**gas, "certified": day(certified), "expires": day(expires)}, water_volume_l=10, fill_kpa=13800)
Reference.objects.create(code="THERM-1", kind="thermometer", title="dry block", state="in-use", content={
    "kind": "thermometer", "certificate": "T-1", "unit": "degC", "expanded_uncertainty": 0.3, "k": 2.0, "due": day(90)})
for number in range(1, 4):
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-2000{number}")
    Job.objects.create(number=f"J-2026-0000{number}", owner=firm, analyzer=analyzer, state="arrived",
        received_on=timezone.localdate(), opened_at=now, enclosed=["probe", "hose"])
"""
SIZES = {"desk": (1280, 800), "tablet": (820, 1180)}


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("bench"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture
def at_bench(chromium, address):
    """Return a function that opens a bench page signed in; console errors fail the test at the end."""
    contexts, errors = [], []

    def open_page(size="desk", scheme="light"):
        width, height = SIZES[size]
        context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{address}/sign-in")
        page.fill("[name=username]", "vale")
        page.fill("[name=password]", PASSWORD)
        page.keyboard.press("Enter")
        page.wait_for_url(f"{address}/")
        page.goto(f"{address}/bench/")
        return page

    yield open_page
    for context in contexts:
        context.close()
    refused = "the server responded with a status of 422"  # a form sent back with its reason
    assert [one for one in errors if refused not in one] == []


def scan(page, text):
    """Type as a scanner does: fast, and Enter at the end."""
    page.evaluate("document.activeElement.blur()")
    for sign in text:
        page.keyboard.press("Minus" if sign == "-" else sign)
    page.keyboard.press("Enter")


def scan_into_field(page, serial):
    """Scan into the first page's field, which has the focus, and wait until the bench page has its keys."""
    page.locator("#scan-text:focus").wait_for()
    page.keyboard.insert_text(serial)
    page.keyboard.press("Enter")
    page.locator("#next-head").wait_for()
    page.wait_for_load_state("load")


def next_is(page, words):
    page.locator("#next-head", has_text=words).wait_for()


@pytest.mark.parametrize(("size", "serial"), [("desk", "O5-20001"), ("tablet", "O5-20002")])
def test_from_the_scan_to_the_first_gas_without_a_mouse(at_bench, size, serial):
    page = at_bench(size)
    scan_into_field(page, serial)
    next_is(page, "Drain trap and hose")
    page.keyboard.press("F4")
    page.locator("#step-here form").wait_for()
    assert page.evaluate("document.activeElement.name") == "water"
    page.keyboard.press("Space")
    page.keyboard.press("F2")
    next_is(page, "Log the room")
    page.keyboard.press("F4")
    page.locator("#step-here [name=air]").wait_for()
    for place, typed in enumerate(("70", None, "40", "1010", "0")):
        if place:
            page.keyboard.press("Tab")
        if typed:
            page.keyboard.insert_text(typed)
    page.keyboard.press("F2")
    next_is(page, "Switch on")
    page.keyboard.press("F4")
    page.locator("#step-here [name=where]").wait_for()
    page.keyboard.press("F2")
    next_is(page, "Put CYL-CO-500 on at the probe tip.")
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


class TestThirdAnalyzer:
    @pytest.fixture
    def page(self, at_bench):
        page = at_bench()
        scan_into_field(page, "O5-20003")
        return page

    def test_a_scanned_reference_goes_into_the_open_form(self, page):
        page.evaluate("document.activeElement.blur()")
        page.keyboard.press("t")
        page.locator("#step-here [name=reference]").wait_for()
        scan(page, "THERM-1")
        page.locator("#messages .message", has_text="THERM-1").wait_for()
        assert page.input_value("#step-here [name=reference]") == "THERM-1"

    def test_an_expired_cylinder_is_refused_with_the_reason(self, page):
        scan(page, "CYL-OLD")
        page.locator("#messages .message.error", has_text="xpired").wait_for()

    def test_a_refused_value_is_kept_and_stands_in_red(self, page):
        page.evaluate("document.activeElement.blur()")
        page.keyboard.press("r")
        page.locator("#step-here [name=humidity_pct]").fill("141")
        page.keyboard.press("F2")
        page.locator("#id_humidity_pct_wrong").wait_for()
        assert page.input_value("#step-here [name=humidity_pct]") == "141"
        page.keyboard.press("Escape")
        page.locator("#step-here form").wait_for(state="detached")

    def test_two_people_at_one_visit_see_each_others_steps(self, page, at_bench):
        other = at_bench("tablet")
        other.goto(page.url)
        other.evaluate("document.activeElement.blur()")
        other.keyboard.press("n")
        other.locator("#step-here [name=text]").fill("seen from the other bench")
        other.keyboard.press("F2")
        page.locator(".log", has_text="seen from the other bench").wait_for(timeout=8000)

    @pytest.mark.parametrize("scheme", ["light", "dark"])
    def test_pages_are_accessible(self, page, address, scheme):
        page.emulate_media(color_scheme=scheme)
        for path in ("", "/step/swap-test", "/step/vacuum-hold", "/step/part", "/record", "/decision"):
            page.goto(f"{address}/bench/J-2026-00003{path or '/'}")
            page.locator("h1").first.wait_for(state="attached")
            found = Axe().run(page)
            assert found.violations_count == 0, found.generate_report()
