"""Boxes in a real browser under the real server: by keys and scanner only, and photos from files."""

import io
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image

from shop.serving import running_shop

pytestmark = pytest.mark.browser

BOX = re.compile(r"/boxes/\d+$")
PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from django.utils import timezone
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerAddress, OwnerContact, Person, Shop
Shop.here()
Person.objects.create_user("marsh", password="Seven-grey-herons-4", first_name="C.", last_name="Marsh", role="counter")
for number, name in enumerate(("Tidewater Heating", "Moss Burner Service", "Reed & Vale")):
    firm = Owner.objects.create(name=f"{name} (invented)")
    OwnerContact.objects.create(owner=firm, name="A. Quay (invented)", phone=f"555-010{number}")
    town = ("Port Alder", "Mossley", "Vale")[number]
    OwnerAddress.objects.create(owner=firm, lines=f"{number} Quay Street", town=town)
    for unit in range(4):
        made = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{number}{unit}417")
        if unit < 2:
            Job.objects.create(number=f"J-2026-0{number}0{unit}9", owner=firm, analyzer=made, state="requested",
                enclosed_announced=["probe", "hose", "trap"], opened_at=timezone.now())
"""


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("boxes"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture(params=[(1280, 800, "light"), (820, 1180, "dark")], ids=["desk", "tablet"])
def page(chromium, address, request):
    """The boxes, signed in; errors of the console fail the test at the end."""
    width, height, scheme = request.param
    context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    opened, errors = context.new_page(), []
    opened.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: errors.append(str(error)))
    opened.goto(f"{address}/sign-in")
    opened.fill("[name=username]", "marsh")
    opened.fill("[name=password]", PASSWORD)
    opened.keyboard.press("Enter")
    opened.wait_for_url(f"{address}/")
    opened.goto(f"{address}/boxes/")
    yield opened
    context.close()
    assert [one for one in errors if "status of 422" not in one] == []


def is_sound(page):
    assert Axe().run(page).response["violations"] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def scan(page, text):
    """Let the page hear a scan; that typing at a scanner's speed is one is tested with the frame."""
    heard = "text => document.dispatchEvent(new CustomEvent('flueproof:scan', {detail: {text}, cancelable: true}))"
    assert page.evaluate(heard, text) is False  # the page took it


def by_hand(page, text):
    """Type as a hand does: slower than a scanner."""
    page.keyboard.type(text, delay=60)


def which(page, desk, tablet):
    """Both sizes work on one shop: each has boxes of its own."""
    return desk if page.viewport_size["width"] == 1280 else tablet


def test_a_box_without_a_slip_is_recognized_and_looked_into_without_a_mouse(page):
    page.keyboard.press("F4")
    page.wait_for_url(BOX)
    by_hand(page, which(page, "O5-1?417", "O5-2?417"))
    for word in ("Orrin", "", which(page, "Moss Burner", "Reed & Vale")):
        page.keyboard.press("Tab")
        by_hand(page, word)
    first = page.locator("#ranked .who > li:first-child", has_text=which(page, "Moss Burner Service", "Reed & Vale"))
    first.locator("li", has_text="their name").first.wait_for()
    page.locator("#ranked .nobody", has_text="%").wait_for()
    is_sound(page)
    page.keyboard.press("Escape")
    page.keyboard.press("1")
    page.wait_for_url("**/condition")
    is_sound(page)
    for part in ("probe", "trap"):
        page.focus(f"#condition [value={part}]")
        page.keyboard.press("Space")
    page.focus("[name=condition]")
    by_hand(page, "dry, sooty")
    page.keyboard.press("F4")
    page.locator("#condition [value=probe]:checked").wait_for()
    page.locator("b", has_text="Not in the box:").wait_for()
    page.keyboard.press("q")
    page.locator(".asked", has_text="hose").wait_for()
    is_sound(page)


def test_a_scan_anywhere_takes_the_box_of_an_awaited_analyzer(page):
    page.locator("h1").click()
    scan(page, which(page, "O5-00417", "O5-01417"))
    page.wait_for_url("**/condition")
    page.locator(".tag", has_text=which(page, "O5-00417", "O5-01417")).wait_for()


def test_photos_are_sent_as_soon_as_they_are_chosen_and_one_that_is_none_is_refused(page):
    page.keyboard.press("F4")
    page.wait_for_url(BOX)
    by_hand(page, which(page, "O5-12417", "O5-22417"))
    page.locator("#ranked [data-key='1']", has_text=which(page, "O5-12417", "O5-22417")).wait_for()
    page.keyboard.press("Escape")
    page.keyboard.press("1")
    page.wait_for_url("**/condition")
    out = io.BytesIO()
    Image.new("RGB", (400, 300), which(page, "tan", "gray")).save(out, "JPEG")
    page.set_input_files(
        "#files",
        [
            {"name": "box.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()},
            {"name": "letter.jpg", "mimeType": "image/jpeg", "buffer": b"no photo"},
        ],
    )
    page.locator("#photos .refusal", has_text="letter.jpg").wait_for()
    page.locator("#photos img").first.wait_for()
    assert page.locator("#photos img").evaluate("one => one.decode().then(() => one.naturalWidth)") == 400
    is_sound(page)


def test_every_page_is_sound_at_both_sizes(page, address):
    for there in ("boxes/", "boxes/new", "calls/", "boxes/of/J-2026-00009"):
        assert page.goto(f"{address}/{there}").status == 200
        page.wait_for_load_state("networkidle")
        is_sound(page)
