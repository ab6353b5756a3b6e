"""The Gas rack in a real browser under the real server: the morning check by keys and scanner only."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
import datetime as dt
from decimal import Decimal
from django.utils import timezone
from flueproof.shop.records.models import Analyzer, Owner, Person, Reference, Shop
Shop.here()
Person.objects.create_user("alder", password="Seven-grey-herons-4", first_name="S.", last_name="Alder", role="signer")
firm = Owner.objects.create(name="Harrow Lane Test Bench (invented)")
Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial="CTRL-1", control_unit=True)
def day(days):
    return timezone.localdate() + dt.timedelta(days=days)
for code, state in (("CYL-0007", "in-use"), ("CYL-0008", "in-use"), ("CYL-0009", "new")):
    content = {"kind": "test-gas", "certificate": "LN-" + code, "number": code, "balance": "nitrogen",
       "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}},
       "certified": day(-60).isoformat(), "expires": day(300).isoformat()}
    Reference.objects.create(code=code, kind="test-gas", title="CO 500 in nitrogen", state=state, content=content,
        good_until=day(300), water_volume_l=8, fill_kpa=13800, price=Decimal("240"))
"""


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("rack"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture(params=[(1280, 800, "light"), (820, 1180, "dark")], ids=["desk", "tablet"])
def page(chromium, address, request):
    """The rack, signed in; errors of the console fail the test at the end."""
    width, height, scheme = request.param
    context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    opened, errors = context.new_page(), []
    opened.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: errors.append(str(error)))
    opened.goto(f"{address}/sign-in")
    opened.fill("[name=username]", "alder")
    opened.fill("[name=password]", PASSWORD)
    opened.keyboard.press("Enter")
    opened.wait_for_url(f"{address}/")
    opened.goto(f"{address}/gas/")
    yield opened
    context.close()
    refused = "the server responded with a status of 422"  # a form sent back with its reason
    assert [one for one in errors if refused not in one] == []


def scan(page, text):
    """Type as a scanner does: fast, and Enter at the end."""
    for sign in text:
        page.keyboard.press("Minus" if sign == "-" else sign)
    page.keyboard.press("Enter")


def is_sound(page):
    assert Axe().run(page).response["violations"] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def fill_in(page, co):
    """Fill in the morning check with Enter alone, the room first, then bottle by bottle."""
    page.focus("[name=room_co_ppm]")
    page.keyboard.insert_text("0")
    page.keyboard.press("Enter")
    for _ in range(2):
        page.keyboard.press("Space")
        page.keyboard.press("Enter")
    for value in ("0.0", co, "0.0", "500"):
        page.keyboard.insert_text(value)
        page.keyboard.press("Enter")


def test_the_morning_check_without_a_mouse(page):
    page.keyboard.press("m")
    page.wait_for_url("**/gas/morning")
    fill_in(page, "440")
    page.keyboard.press("F2")
    page.locator("h2", has_text="This would not pass").wait_for()
    is_sound(page)
    page.locator("section[data-code=CYL-0007] input").last.fill("500")
    page.keyboard.press("F2")
    page.locator("b", has_text="The bench is open for the day").wait_for()
    is_sound(page)


def test_a_scan_opens_a_bottle_and_in_the_morning_goes_to_its_field(page, address):
    scan(page, "CYL-0008")
    page.wait_for_url("**/gas/reference/CYL-0008")
    is_sound(page)
    page.goto(f"{address}/gas/morning")
    page.focus("[name=room_co_ppm]")
    scan(page, "CYL-0008")
    page.locator("section[data-code=CYL-0008] :focus").first.wait_for()
    assert page.input_value("[name=room_co_ppm]") == ""


def test_every_page_is_sound_at_both_sizes(page, address):
    for there in ("", "new", "new/test-gas", "change/CYL-0007", "compare/CYL-0009", "label/CYL-0007"):
        assert page.goto(f"{address}/gas/{there}").status == 200
        is_sound(page)
