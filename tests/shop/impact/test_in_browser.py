"""The page in a real browser: a log uploaded, its question answered, the alarm first, the letter; by keyboard; axe."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from shop.serving import running_shop

pytestmark = pytest.mark.browser
WIDTHS = (390, 820, 1280)
SMALL = """[...document.querySelectorAll("main button, main select, main input, main summary")]
  .filter(one => !["hidden", "radio", "checkbox"].includes(one.type) && one.offsetHeight > 0 && one.offsetHeight < 44)
  .map(one => one.outerHTML.slice(0, 80))"""
PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
import datetime as dt
from django.contrib.auth import get_user_model
from flueproof.shop.records.models import Analyzer, BenchEvent, Job, Owner, Shop, Visit
from flueproof.shop.records.visits.events import append
from flueproof.simulate.demo import demo_records
shop = Shop.here()
person = get_user_model().objects.create_user("reed", password="Seven-grey-herons-4", role="manager")
owner = Owner.objects.create(name="Tidewater Heating (invented)")
tree = next(one for one in demo_records() if one.name == "co-cell-low").record
at = dt.datetime.fromisoformat(tree["steps"][0]["at"])
told = tree["analyzer"]
analyzer = Analyzer.objects.create(
    owner=owner, make=told["make"], model=told["model"], serial=told["serial"], profile=told["profile"]["name"])
job = Job.objects.create(number=tree["job"], owner=owner, analyzer=analyzer, state="bench", opened_at=at)
visit = Visit.objects.create(job=job, opened_at=at, opened_by=person)
append(visit, "head", {k: v for k, v in tree.items() if k not in {"format", "references", "steps"}}, person, at)
for code, content in tree["references"].items():
    append(visit, "reference", {"id": code, "content": content}, person, at)
for step in tree["steps"]:
    append(visit, "step", step, person, at)
print(analyzer.pk)
"""
LOG = "date,site,O2,CO,stack,air\n" + "".join(
    f"0{month}/04/2026,House {month} (invented),5.0,{co},392,68\n" for month, co in ((1, 20), (2, 80), (3, 300))
)


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with running_shop(tmp_path_factory.mktemp("impact"), make=MAKE) as shop:
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
def opened(chromium, address, signed_in):
    """Return a function -> the analyzer's page; console errors fail the test at the end."""
    contexts, errors = [], []

    def opened(*, scheme="light", scripts=True):
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
        assert page.goto(address + "/impact/1/").status == 200
        page.wait_for_load_state("networkidle")
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [text for text in errors if "422" not in text] == []


def uploaded(page):
    """Upload the log with a limit of the owner's, and answer what it leaves open."""
    page.locator("#log_file").set_input_files({"name": "log.csv", "mimeType": "text/csv", "buffer": LOG.encode()})
    page.get_by_label("Limit 1, name").fill("House rule")
    page.get_by_label("Limit 1, value").fill("120")
    page.get_by_role("button", name="Work it through").click()
    expect(page.get_by_text("The dates can be read both ways. Which comes first?")).to_be_visible()
    page.get_by_label("the month: 03/04/2026 is 4 March").check()
    page.locator("input[name=temperature_unit][value=degF]").check()
    page.get_by_role("button", name="Go on with this answer").click()
    expect(page.locator("#result-head")).to_have_text("1 of 3 readings must be tested again")


def test_a_log_goes_from_the_file_to_the_alarm_and_the_letter(opened):
    page = opened()
    uploaded(page)
    first = page.locator(".worked tbody tr").first
    expect(first).to_contain_text("House 2 (invented)")
    expect(first).to_contain_text("4\xa0Feb\xa02026")
    expect(page.locator("#result")).to_be_in_viewport()
    with page.expect_download() as letter:
        page.get_by_role("button", name="Notice letter (PDF)").click()
    assert letter.value.path().read_bytes().startswith(b"%PDF")
    with page.expect_download() as listed:
        page.get_by_role("button", name="List as CSV").click()
    assert "House 2 (invented)" in listed.value.path().read_text(encoding="utf-8-sig").splitlines()[1]


def test_rows_are_typed_by_keyboard_and_enter_adds_one(opened):
    page = opened()
    page.get_by_label("Row 3, O2").fill("5.0")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Row 4, date")).to_be_focused()
    page.get_by_label("Row 4, O2").fill("6.0")
    page.keyboard.press("F4")
    expect(page.locator("#result-head")).to_have_text("2 readings corrected; no limit was chosen")


def test_one_reading_is_corrected_while_one_types(opened):
    page = opened()
    page.locator("#value_o2").fill("5.0")
    page.locator("#value_co").fill("80")
    row = page.locator("#value tr", has_text="CO air-free")
    expect(row).to_contain_text("105.2")
    page.locator("#value_o2").fill("x")
    expect(page.locator("#value")).to_contain_text("“x” is no number")
    expect(page.locator("#value_o2")).to_have_value("x")


def test_without_scripts_reading_and_log_work_too(opened):
    page = opened(scripts=False)
    page.locator("#value_o2").fill("5.0")
    page.locator("#value_co").fill("80")
    page.get_by_role("button", name="Correct this reading").click()
    assert "105.2" in page.locator("#value").inner_text()
    uploaded(page)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_is_fit_for_everybody_at_every_width(opened, scheme):
    page = opened(scheme=scheme)
    page.locator("#value_o2").fill("5.0")
    page.locator("#value table").wait_for()
    uploaded(page)
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert Axe().run(page).response["violations"] == []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0, width
    small = page.evaluate(SMALL)
    assert small == []
