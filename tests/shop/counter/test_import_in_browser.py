"""Importing a list in a real browser under the real server, by keyboard alone: from the file to the undo."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from flueproof.shop.records.models import Analyzer, Owner, Person, Shop
Shop.here()
Person.objects.create_user("marsh", password="Seven-grey-herons-4", first_name="C.", last_name="Marsh", role="counter")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial="O5-20417")
"""
LIST = (
    "Customer;Contact;Phone;Make;Model;Serial no.;Last cal.\n"
    + "".join(f"Birch {n // 3} (invented);Ann {n // 3};555-{n // 3:04d};Orrin;Orrin 5;00{n:03d};\n" for n in range(45))
    + "Birch 1 (invented);;;Orrin;Orrin 5;N7;2/4/95\n"
    + "Tidewater Heating (invented);;;Orrin;Orrin 5;05-20417;\n"
    + "Tidewater Heating (invented);;;Orrin;Orrin 5;O5-20417;\n"
    + "Elder (invented);;;Orrin;Orrin 5;;2026-01-05\n"
)


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("imports"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture
def list_file(tmp_path):
    path = tmp_path / "units.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


@pytest.fixture(params=[(1280, 800, "light"), (820, 1180, "dark")], ids=["desk", "tablet"])
def page(chromium, address, request):
    """The page to import, signed in; errors of the console fail the test at the end."""
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
    opened.goto(f"{address}/import/")
    yield opened
    context.close()
    assert errors == []


def tab_to(page, selector):
    """Press Tab until the control has the focus."""
    for _ in range(90):
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"the keyboard does not reach {selector}")


def is_sound(page):
    assert Axe().run(page).response["violations"] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_a_list_is_imported_and_taken_back_by_keyboard(page, list_file):
    is_sound(page)
    tab_to(page, "[name=file]")
    page.set_input_files("[name=file]:focus", list_file)  # what the dialog of the system does once Enter opened it
    page.keyboard.press("F4")
    page.get_by_role("heading", name="Which column is what").wait_for()
    is_sound(page)
    assert page.locator("[name=column-5]").input_value() == "serial"
    page.keyboard.press("F4")
    page.get_by_text("45 of 49 rows would be new").wait_for()
    is_sound(page)
    assert page.get_by_role("button", name="Import").count() == 0  # a date waits
    tab_to(page, "[name=date_order]")
    page.keyboard.type("day")
    tab_to(page, "[name=others]")
    page.keyboard.press("Space")
    tab_to(page, "form[action$=choose] button")
    page.keyboard.press("Enter")
    page.get_by_text("47 of 49 rows would be new").wait_for()
    page.keyboard.press("F4")
    page.get_by_text("47 of 49 rows were new").wait_for()
    is_sound(page)
    page.locator("body").press("/")
    page.keyboard.type("00044")
    page.keyboard.press("Enter")
    page.get_by_text("Birch 14 (invented)").first.wait_for()
    page.go_back()
    tab_to(page, "form[action$=undo] button")
    page.keyboard.press("Enter")
    page.get_by_text("taken back").first.wait_for()
    is_sound(page)
