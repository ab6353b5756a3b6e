"""Requests in a real browser under the real server: the public steps by keys alone, the counter's page too."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from flueproof.shop.records.models import Analyzer, Owner, OwnerContact, Person, Shop
shop = Shop.here()
shop.name, shop.phone, shop.address = "Harrow Lane Test Bench (invented)", "555-0100", ["1 Harrow Lane", "Port Alder"]
shop.save()
who = {"first_name": "C.", "last_name": "Marsh", "role": "counter"}
Person.objects.create_user("counter", password="Seven-grey-herons-4", **who)
firm = Owner.objects.create(name="Tidewater Heating (invented)")
OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@quay.example")
Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial="O5-20417")
"""
CONFIRM = """
from flueproof.shop.records.mailing.seals import unseal
from flueproof.shop.records.models import Letter
print(unseal(Letter.objects.filter(kind="confirm-request").latest("pk").text))
"""
WIDE = """
from django.utils import timezone
from flueproof.shop.records.mailing.links import make_link
from flueproof.shop.records.models import RequestedAnalyzer, ServiceRequest
wide, now = "W" * 90, timezone.now()
for code, state, purpose in (("R-DRAFT2", "draft", "resume"), ("R-SENT22", "unconfirmed", "confirm"),
                             ("R-KNWN22", "confirmed", "confirm")):
    row = ServiceRequest.objects.create(code=code, state=state, step=6, firm=wide, contact=wide, phone="5" * 40,
                                        email="a" * 60 + "@b.example", lines=wide, town=wide[:80], carrier=wide,
                                        note=wide * 3, made_at=now)
    RequestedAnalyzer.objects.create(request=row, slip=code, make=wide[:80], model=wide[:80], serial=wide[:60],
                                     complaint=wide * 2, used_on=wide, enclosed=["probe", wide[:60]], limits="profile")
    print(make_link(purpose, request=row, now=now, days=7)[1])
"""
SIZES = [(390, 844, "light"), (820, 1180, "dark")]


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("requests"), make=MAKE) as shop:
        yield shop


@pytest.fixture
def opened(chromium):
    """Return a function size -> page; errors of the console fail the test at the end."""
    contexts, errors = [], []

    def open_page(size):
        width, height, scheme = size
        contexts.append(chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme))
        page = contexts[-1].new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert errors == []


def looked_at(page):
    """Fail where the page is hard to use: for readers, too wide, targets under 44 px."""
    found = [
        (one["id"], [node["html"][:160] for node in one["nodes"]]) for one in Axe().run(page).response["violations"]
    ]
    assert found == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    small = page.evaluate(
        """[...document.querySelectorAll("a, button, summary, .field input, select, textarea")].filter((one) => {
          const target = one.matches("[type=checkbox], [type=radio]") ? one.closest("label") : one;
          const box = target.getBoundingClientRect();
          return box.height && box.height < 43.5 && !one.matches(".skip, .for-readers");
        }).map((one) => one.outerHTML.slice(0, 120))"""
    )
    assert small == []


def type_into(page, label, text):
    """Walk to a field by Tab alone and type."""
    wanted = page.get_by_label(label, exact=True).first.get_attribute("id")
    for _ in range(80):
        if page.evaluate("document.activeElement.id") == wanted:
            page.keyboard.insert_text(text)
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{label} cannot be reached by keys")


def press(page, words):
    """Walk to a button by Tab alone and press it; wait for what comes."""
    for _ in range(120):
        if page.evaluate("(document.activeElement.textContent || '').trim()").startswith(words):
            with page.expect_navigation():
                page.keyboard.press("Enter")
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{words} cannot be reached by keys")


@pytest.mark.parametrize("size", SIZES, ids=["phone", "tablet-dark"])
def test_an_owner_asks_by_keys_alone_and_confirms_by_the_link(served, opened, size):
    page = opened(size)
    page.goto(f"{served.address}/service-request/")
    looked_at(page)
    type_into(page, "Firm", "Quayside Air (invented)")
    type_into(page, "E-mail", "ben@quayside.example")
    press(page, "Save and go on")
    type_into(page, "Model", "Orrin 7")
    looked_at(page)
    press(page, "Save and go on")
    type_into(page, "What is wrong, in your words", "Shows 3 ppm of CO in clean air.")
    looked_at(page)
    press(page, "Save and go on")
    for summary in page.locator("summary").all():
        summary.press("Enter")
    looked_at(page)
    press(page, "Save and go on")
    type_into(page, "How it goes back", "we collect it")
    looked_at(page)
    press(page, "Save and go on")
    looked_at(page)
    press(page, "Send the request")
    looked_at(page)
    link = re.search(r"/service-request/confirm/\S+", served.python(CONFIRM)).group()
    other = opened(size)
    other.goto(served.address + link)
    looked_at(other)
    press(other, "Confirm request")
    assert other.get_by_role("heading", name="We expect your box").is_visible()
    looked_at(other)


def test_what_is_typed_as_fast_as_a_scan_stays_in_its_field(served, opened):
    page = opened(SIZES[0])
    page.goto(f"{served.address}/service-request/")
    page.get_by_label("Firm", exact=True).focus()
    page.keyboard.type("Quayside Air")
    page.keyboard.press("Tab")
    assert page.get_by_label("Firm", exact=True).input_value() == "Quayside Air"


def test_the_counter_takes_one_on_the_phone_by_keys_alone(served, opened):
    page = opened((1280, 800, "light"))
    page.goto(f"{served.address}/sign-in")
    page.fill("[name=username]", "counter")
    page.fill("[name=password]", PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(f"{served.address}/")
    page.goto(f"{served.address}/requests/")
    looked_at(page)
    page.keyboard.press("n")
    page.wait_for_url("**/requests/new/")
    page.keyboard.type("20417", delay=60)
    page.locator("#found button").first.wait_for()
    looked_at(page)
    press(page, "Tidewater Heating")
    page.keyboard.insert_text("O2 reads high")
    type_into(page, "How it goes back", "they collect it")
    with page.expect_navigation():
        page.keyboard.press("F4")
    assert page.get_by_text("confirmed, box awaited").first.is_visible()
    assert page.get_by_role("link", name=re.compile(r"^J-\d{4}-\d{5}$")).is_visible()
    looked_at(page)


def test_words_without_a_blank_stay_on_a_phone(served, opened):
    draft, unconfirmed, confirmed = served.python(WIDE).split()
    page = opened((390, 844, "light"))
    steps = [f"{draft}{name}/" for name in ("who", "analyzers", "wrong", "wanted", "box", "check")]
    for address in (*steps, unconfirmed, confirmed):
        page.goto(f"{served.address}{address}")
        looked_at(page)
