"""The flue page in a real browser: the slider by keyboard, the panel as one types, every width and theme."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from shop.serving import running_shop

pytestmark = pytest.mark.browser
WIDTHS = (390, 820, 1280)
PATHS = ("/flue/", "/flue/?view=errors", "/flue/fuels/", "/flue/fuels/biogas", "/flue/fuels/new")
PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
from flueproof.shop.records.models import Person, Shop, ShopFuel
Shop.here()
Person.objects.create_user("reed", password="Seven-grey-herons-4", first_name="M.", last_name="Reed", role="manager")
text = 'name = "Biogas (invented)"\\nkind = "gas"\\nsource = "(invented)"\\ncomposition = { CH4 = 97, CO2 = 3 }'
ShopFuel.objects.create(key="biogas", name="Biogas (invented)", text=text)
"""


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("flue"), make=MAKE) as shop:
        yield shop.address


@pytest.fixture(scope="module")
def signed_in(chromium, address):
    """What a signed-in browser keeps, so that each test begins inside."""
    context = chromium.new_context()
    page = context.new_page()
    page.goto(address + "/sign-in")
    page.locator("input[name=username]").fill("reed")
    page.locator("input[name=password]").fill(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(address + "/")
    state = context.storage_state()
    context.close()
    return state


@pytest.fixture
def flue(chromium, address, signed_in):
    """Return a function path -> page with the flue page open; console errors fail the test at the end."""
    contexts, errors = [], []

    def opened(path="/flue/?unit=degC", *, scheme="light", scripts=True):
        context = chromium.new_context(
            viewport={"width": 1280, "height": 800},
            color_scheme=scheme,
            java_script_enabled=scripts,
            storage_state=signed_in,
        )
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        answer = page.goto(address + path)
        assert answer.status == 200
        page.wait_for_load_state("networkidle")
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [text for text in errors if "422" not in text] == []


def large(page, name):
    """Return the number of a large figure."""
    return page.locator(".large div", has=page.locator("dt", has_text=name)).locator(".figure").inner_text().split()[0]


def test_the_slider_by_keyboard_changes_the_figures_and_the_address(flue):
    page = flue()
    assert large(page, "CO2") == "9.08"
    slider = page.get_by_label("O2, slider")
    slider.focus()
    with page.expect_response(lambda answer: "/flue/" in answer.url and "o2=6.0" in answer.url):
        for _ in range(10):
            page.keyboard.press("ArrowRight")
    expect(page.locator(".large .figure").first).to_contain_text("8.51")
    assert page.locator("#flue_o2").input_value() == "6.0"
    assert page.evaluate("document.activeElement.type") == "range"
    assert "o2=6.0" in page.url
    page.reload()
    assert large(page, "CO2") == "8.51"
    assert slider.input_value() == "6"


def test_the_slider_follows_what_is_typed(flue):
    page = flue()
    page.locator("#flue_o2").fill("8,5")
    expect(page.locator(".large .figure").first).to_contain_text("7.09")
    assert page.get_by_label("O2, slider").input_value() == "8.5"


def test_what_is_wrong_is_said_beside_the_field_while_one_types_and_goes_again(flue):
    page = flue()
    page.locator("#flue_stack").fill("10")
    wrong = page.locator("#flue_stack_wrong")
    expect(wrong).to_contain_text("not hotter")
    assert page.locator("#flue_stack").get_attribute("aria-invalid") == "true"
    assert page.locator("#panel .refusal").is_visible()
    page.locator("#flue_stack").fill("200")
    expect(wrong).to_be_empty()
    assert page.locator("#flue_stack").get_attribute("aria-invalid") is None
    assert not wrong.is_visible()


def test_the_other_view_takes_all_that_was_typed_along(flue):
    page = flue()
    page.locator("#flue_co").fill("200")
    expect(page).to_have_url(re.compile("co=200"))
    page.get_by_role("link", name="What an error does").click()
    page.wait_for_load_state("networkidle")
    assert page.locator("#flue_co").input_value() == "200"
    row = page.locator("tr", has_text="Sample leak")
    assert "262.9" in row.inner_text()
    assert "= unchanged" in row.inner_text()


def test_without_scripts_the_form_computes_all_the_same(flue):
    page = flue(scripts=False)
    assert page.locator("input[type=range]").count() == 1
    assert not page.locator("input[type=range]").is_visible()
    page.locator("#flue_o2").fill("6")
    page.get_by_role("button", name=re.compile("Compute")).click()
    assert large(page, "CO2") == "8.51"


def test_the_rows_of_a_fuel_follow_its_kind_and_their_sum_is_told(flue):
    page = flue("/flue/fuels/new")
    page.locator("#id_name").fill("Landfill gas (invented)")
    page.locator("#id_source").fill("supplier (invented)")
    page.locator("[id='id_gas_CH4']").fill("60")
    assert "40 % missing" in page.locator(".sum").inner_text()
    page.locator("[id='id_gas_CO2']").fill("40")
    expect(page.locator("#fuel-properties")).to_contain_text("Landfill")
    assert page.locator(".sum output").inner_text() == "100"
    page.get_by_label("solid (mass %)").check()
    assert not page.locator("[id='id_gas_CH4']").is_visible()
    assert page.locator("[id='id_mass_C']").is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", PATHS)
def test_each_page_is_accessible_and_fits_every_width(flue, path, scheme):
    page = flue(path, scheme=scheme)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        if width in {min(WIDTHS), max(WIDTHS)}:
            found = Axe().run(page)
            assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", PATHS[:2])
def test_it_prints_on_one_page(flue, path, paper):
    page = flue(path)
    assert len(re.findall(rb"/Type\s*/Page[^s]", page.pdf(format=paper))) == 1
