"""The Counter in a real browser under the real server: owners and analyzers by keys alone, two people on one row."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from flueproof.shop.records.models import Analyzer, Cell, Owner, OwnerAddress, OwnerContact, Person, Shop
Shop.here()
for role, first, last in (("counter", "C.", "Marsh"), ("manager", "M.", "Reed")):
    Person.objects.create_user(role, password="Seven-grey-herons-4", first_name=first, last_name=last, role=role)
for name in ("Tidewater Heating (invented)", "Dune Stoves (invented)"):
    firm = Owner.objects.create(name=name, due_agreed=True)
    OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@quay.example")
    OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
for serial in ("O5-20417", "O5-20418"):
    unit = Analyzer.objects.create(owner=Owner.objects.earliest("pk"), make="Orrin", model="Orrin 5", serial=serial)
    Cell.objects.create(analyzer=unit, gas="co", serial="B7")
unit.obligations.create(agreed_by="Ada Quay (invented)")
"""
SIZES = [(1280, 800, "light"), (820, 1180, "dark")]


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("counter"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture
def signed_in(chromium, address):
    """Return a function role -> page of that person; errors of the console fail the test at the end."""
    contexts, errors = [], []

    def open_page(role, size=SIZES[0]):
        width, height, scheme = size
        contexts.append(chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme))
        page = contexts[-1].new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{address}/sign-in")
        page.fill("[name=username]", role)
        page.fill("[name=password]", PASSWORD)
        page.keyboard.press("Enter")
        page.wait_for_url(f"{address}/")
        return page

    yield open_page
    for context in contexts:
        context.close()
    refused = "the server responded with a status of 422"  # a form sent back with its reason
    assert [one for one in errors if refused not in one] == []


def is_sound(page):
    assert Axe().run(page).response["violations"] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    too_small = """[...document.querySelectorAll("main a, main button, main select, main summary")].filter(
        (one) => one.getClientRects().length && one.getBoundingClientRect().height < 44).map((one) => one.outerHTML)"""
    assert page.evaluate(too_small) == []


def tab_to(page, selector):
    """Press Tab until the element has the focus."""
    for _ in range(60):
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} is not reached with Tab")


def rewrite(page, selector, text):
    """Go to a field with Tab and write it anew."""
    tab_to(page, selector)
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(text)


@pytest.mark.parametrize("size", SIZES, ids=["desk", "tablet"])
def test_an_analyzer_is_changed_without_a_mouse(signed_in, address, size):
    page = signed_in("counter", size)
    page.keyboard.press("/")
    page.locator("#search:focus").wait_for()
    page.keyboard.insert_text("O5-20417")
    page.keyboard.press("Enter")
    page.wait_for_url("**/analyzers/*")
    page.keyboard.press("e")
    page.wait_for_url("**/analyzers/*/change")
    rewrite(page, "[name=serial]", "05-204I8")
    page.keyboard.press("F4")
    page.locator(".wrong", has_text="reads like one on file").wait_for()
    is_sound(page)
    rewrite(page, "[name=serial]", "O5-20417")
    rewrite(page, "[name=firmware]", f"2.{size[0]}")
    page.keyboard.press("F4")
    page.locator(".message", has_text="Saved.").wait_for()
    tab_to(page, "details.history summary")
    page.keyboard.press("Enter")
    page.locator(".history td", has_text=f"2.{size[0]}").first.wait_for()
    assert "C. Marsh" in page.locator(".history").inner_text()
    is_sound(page)


def test_two_people_at_one_person_of_an_owner_lose_nothing(signed_in, address):
    first, second = signed_in("manager"), signed_in("counter", SIZES[1])
    for page in (first, second):
        page.goto(f"{address}/owners/1")
        page.get_by_role("link", name="Change Ada Quay (invented)").press("Enter")
        page.locator("[name=phone]").wait_for()
    rewrite(first, "[name=phone]", "555-0199")
    first.keyboard.press("F4")
    first.locator(".message", has_text="Saved.").wait_for()
    rewrite(second, "[name=duty]", "fetches the boxes")
    second.keyboard.press("F4")
    second.locator(".conflict h2", has_text="M. Reed changed this while you had it open").wait_for()
    is_sound(second)
    assert second.input_value("[name=phone]") == "555-0199"
    second.keyboard.press("F4")
    second.locator(".message", has_text="Saved.").wait_for()
    assert "555-0199" in second.locator("#person >> xpath=..").inner_text()
    assert "fetches the boxes" in second.locator("#person >> xpath=..").inner_text()


def test_an_analyzer_is_sold_by_keys(signed_in, address):
    page = signed_in("counter")
    page.goto(f"{address}/analyzers/2")
    page.get_by_role("link", name="It was sold").press("Enter")
    page.wait_for_url("**/sold")
    page.keyboard.insert_text("dune")
    page.locator("#candidates a", has_text="Dune Stoves").wait_for()
    is_sound(page)
    tab_to(page, "#candidates a")
    page.keyboard.press("Enter")
    page.wait_for_url("**/sold?to=2")
    is_sound(page)
    page.keyboard.press("F4")
    page.locator(".message", has_text="belongs to Dune Stoves (invented). No longer due").wait_for()


def is_taken(page, text):
    """Announce a scan as the frame does; return whether the page took it, so that the search does not."""
    told = """(text) => document.dispatchEvent(
        new CustomEvent("flueproof:scan", { detail: { text }, bubbles: true, cancelable: true }))"""
    return not page.evaluate(told, text)


def test_a_scan_goes_into_the_plate_and_presses_nothing(signed_in, address):
    page = signed_in("counter")
    page.goto(f"{address}/owners/1/analyzers/new")
    rewrite(page, "[name=model]", "Orrin 7")
    assert is_taken(page, "07-00417")
    page.locator("[name=serial]:focus").wait_for()
    assert page.input_value("[name=serial]") == "07-00417"
    assert page.input_value("[name=model]") == "Orrin 7"
    assert page.url.endswith("/owners/1/analyzers/new")


def test_a_scan_on_a_new_job_looks_for_the_analyzer_and_in_the_plates_field_fills_it(signed_in, address):
    page = signed_in("counter")
    page.goto(f"{address}/jobs/new")
    page.locator("[name=complaint]").focus()
    assert is_taken(page, "05-20417")
    page.locator("#candidates", has_text="O5-20417").wait_for()
    page.locator("[name=serial]").focus()
    assert is_taken(page, "07-00417")
    assert page.input_value("[name=serial]") == "07-00417"
    assert page.input_value("#q") == "05-20417"


def test_a_page_without_a_plate_leaves_a_scan_to_the_search(signed_in, address):
    page = signed_in("counter")
    page.goto(f"{address}/owners/1")
    assert not is_taken(page, "O5-20417")


@pytest.mark.parametrize("size", SIZES, ids=["desk", "tablet"])
def test_every_page_is_sound(signed_in, address, size):
    page = signed_in("manager", size)
    pages = [
        "",
        "owners/",
        "owners/new",
        "owners/1",
        "owners/1/change",
        "owners/1/analyzers/new",
        "owners/1/people/new",
    ]
    pages += ["owners/1/people/1", "owners/1/addresses/new", "owners/1/addresses/1", "analyzers/"]
    pages += ["analyzers/1", "analyzers/1/change", "analyzers/1/sold", "analyzers/1/cells/new", "analyzers/1/cells/1"]
    pages += ["analyzers/1/cells/1/replace", "analyzers/1/due/new", "jobs/new", "search?q=quay"]
    for there in pages:
        assert page.goto(f"{address}/{there}").status == 200
        is_sound(page)
