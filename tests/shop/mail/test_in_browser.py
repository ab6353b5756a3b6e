"""E-mails and the pages of their links in a real browser: sound in every size and theme, and by keys alone."""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe

from shop.serving import running_shop

pytestmark = pytest.mark.browser

PASSWORD = "Seven-grey-herons-4"  # noqa: S105 -- of invented people in a throw-away shop
MAKE = """
import datetime as dt, json, os
from django.utils import timezone
from flueproof.shop.records.mailing.links import make_link
from flueproof.shop.records.mailing.questions import answer, ask
from flueproof.shop.records.mailing.undelivered import bounced
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import *
shop = Shop.here()
shop.name, shop.address = "Harrow Lane Test Bench (invented)", ["1 Harrow Lane", "Port Alder"]
shop.public_address, shop.phone, shop.email = "https://bench.example", "555-0199", "bench@harrow.example"
shop.save()
people = {}
for role, first, last in (("counter", "C.", "Marsh"), ("manager", "M.", "Reed")):
    people[role] = Person.objects.create_user(role, password="Seven-grey-herons-4", first_name=first, last_name=last,
                                              role=role)
firm = Owner.objects.create(name="Tidewater Heating (invented)", due_agreed=True)
OwnerContact.objects.create(owner=firm, name="Ada Quay (invented)", phone="555-0100", email="ada@tidewater.example")
OwnerAddress.objects.create(owner=firm, lines="5 Quay Street", town="Port Alder")
now = timezone.now()
links = {}
for number, state in ((1, "arrived"), (2, "held"), (3, "bench")):
    unit = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-2041{number}",
                                   profile="two-cell-residential")
    job = Job.objects.create(number=f"J-2026-0000{number}", owner=firm, analyzer=unit, state=state, opened_at=now,
                             complaint="O2 reads high", received_on=timezone.localdate(),
                             promised_on=timezone.localdate() + dt.timedelta(days=6))
    write_letter("box-arrived", job=job, now=now, extra={"missing": "- the hose" if number == 1 else ""})
    links[f"follow{number}"] = make_link("follow", job=job, now=now, days=180)[1]
job = Job.objects.get(number="J-2026-00001")
counter = people["counter"]
for name in ("question", "keys"):
    question = ask(job, "missing-part", "hose", f"The hose is not in the box. What shall we do? ({name})",
                   ["I send it", "Sell me a new one", "Test it without"], True, counter, now)
    links[name] = make_link("answer", question=question, now=now, days=30)[1]
asked = ask(job, "other", "", "May we open the pump?", ["Yes", "No"], False, counter, now)
answer(asked, "Yes", "Ada Quay (invented)", None, now)
quote = Quote.objects.create(number="Q-2026-00007", job=Job.objects.get(number="J-2026-00002"), state="sent",
                             words="The CO cell reads 30 % low and cannot be adjusted any more.", made_at=now,
                             sent_at=now, valid_until=timezone.localdate() + dt.timedelta(days=14))
QuoteLine.objects.create(quote=quote, words="CO cell", price=180)
QuoteLine.objects.create(quote=quote, words="Fitting and adjusting", count="0.5", price=130)
write_letter("quote", quote=quote, by=counter, now=now)
links["quote"] = make_link("quote", quote=quote, now=now, days=15)[1]
links["late"] = make_link("answer", question=asked, now=now - dt.timedelta(days=9), days=1)[1]
lost = write_letter("letter", job=job, to="old@tidewater.example", by=counter, now=now,
                    extra={"subject": "About your hose", "words": "Hello,\\n\\nwe found a hose that fits."})
bounced(lost, "550 no such mailbox", counter, now)
wide = "W" * 90
unit = Analyzer.objects.create(owner=firm, make="Orrin", model="M" * 70, serial="S" * 55,
                               profile="two-cell-residential")
odd = Job.objects.create(number="J-2026-00009", owner=firm, analyzer=unit, state="arrived", opened_at=now)
asked = ask(odd, "other", wide[:100], wide * 3, [wide, "short"], True, counter, now)
links["wide-question"] = make_link("answer", question=asked, now=now, days=30)[1]
links["wide-follow"] = make_link("follow", job=odd, now=now, days=30)[1]
told = Quote.objects.create(number="Q-2026-00009", job=odd, state="sent", words=wide * 2, made_at=now, sent_at=now,
                            valid_until=timezone.localdate() + dt.timedelta(days=14))
QuoteLine.objects.create(quote=told, words=wide * 2, count=999, price=99999)
links["wide-quote"] = make_link("quote", quote=told, now=now, days=15)[1]
read = write_letter("quote", quote=told, by=counter, now=now)
links["wide-letter"] = f"/letters/{read.pk}/"
links = {name: address.removeprefix("https://bench.example") for name, address in links.items()}
links["letter"] = f"/letters/{Letter.objects.filter(kind='question').latest('pk').pk}/"
links["lost"] = f"/letters/{lost.pk}/"
open(os.environ["FLUEPROOF_DATA"] + "/links.json", "w").write(json.dumps(links))
"""
SIZES = [(390, 844, "light"), (820, 1180, "dark"), (1280, 800, "light")]
PUBLIC = ["question", "quote", "follow1", "follow2", "late", "wide-question", "wide-quote", "wide-follow"]
STAFF = [
    "/letters/",
    "letter",
    "lost",
    "wide-letter",
    "/letters/job/J-2026-00001/",
    "/letters/words/",
    "/letters/words/quote/",
]


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """(address, links by name)."""
    folder = tmp_path_factory.mktemp("mail")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FLUEPROOF_MAIL", "file:e-mails")
        with running_shop(folder, make=MAKE) as shop:
            yield shop.address, json.loads((folder / "data" / "links.json").read_text())


@pytest.fixture
def browser(chromium, served):
    """Return a function (size, role) -> page, "" is nobody; errors of the console fail the test at the end."""
    contexts, errors = [], []

    def open_page(size, role=""):
        width, height, scheme = size
        contexts.append(chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme))
        page = contexts[-1].new_page()
        page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        if role:
            page.goto(f"{served[0]}/sign-in")
            page.fill("[name=username]", role)
            page.fill("[name=password]", PASSWORD)
            page.keyboard.press("Enter")
            page.wait_for_url(f"{served[0]}/")
        return page

    yield open_page
    for context in contexts:
        context.close()
    expected = ("status of 422", "status of 410", "status of 404")  # pages that say why
    assert [one for one in errors if not any(words in one for words in expected)] == []


def is_sound(page):
    assert Axe().run(page).response["violations"] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    too_small = """[...document.querySelectorAll("main a, main button, main select, main summary")]
        .filter((one) => one.getClientRects().length && one.getBoundingClientRect().height < 43.9)
        .map((one) => one.outerHTML)"""
    assert page.evaluate(too_small) == []


def tab_to(page, selector):
    """Press Tab until the element has the focus."""
    for _ in range(80):
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} is not reached with Tab")


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_pages_of_links_are_sound_in_every_size(browser, served, size):
    address, links = served
    page = browser(size)
    for name in PUBLIC:
        page.goto(address + links[name])
        is_sound(page)
    page.goto(f"{address}/answer/nothing/")
    is_sound(page)


@pytest.mark.parametrize("size", SIZES[1:], ids=str)
def test_the_pages_of_the_shop_are_sound_in_every_size(browser, served, size):
    address, links = served
    page = browser(size, "manager")
    for name in STAFF:
        page.goto(address + links.get(name, name))
        page.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
        is_sound(page)


def test_a_question_is_answered_by_keys_alone(browser, served):
    address, links = served
    page = browser(SIZES[0])
    page.goto(address + links["keys"])
    tab_to(page, "[name=choice]")
    page.keyboard.press("ArrowDown")
    tab_to(page, "[name=words]")
    page.keyboard.insert_text("Blue if there is one")
    tab_to(page, "[name=name]")
    page.keyboard.insert_text("Ada")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=Thank you, we have your answer")
    is_sound(page)


def test_the_answer_stands_on_the_page_of_the_job_at_once(browser, served):
    page = browser(SIZES[2], "counter")
    page.goto(served[0] + "/jobs/J-2026-00001")
    page.wait_for_selector("text=May we open the pump?")
    assert page.locator(".letters-panel .question.closed >> text=Yes").count() >= 1


def test_the_preview_follows_what_is_typed(browser, served):
    address, _ = served
    page = browser(SIZES[2], "manager")
    page.goto(f"{address}/letters/words/ready/")
    frame = page.frame_locator("iframe[name=preview]")
    frame.locator("text=is done and its paper is signed").first.wait_for()
    page.fill("[name=text]", "Hello {person}, a new sentence. {wrong}")
    frame.locator("text=Hello Ada Quay (invented), a new sentence.").first.wait_for()
    frame.locator("text={wrong} is not known in this e-mail").first.wait_for()
    page.fill("[name=text]", "Hello {person}, saved.")
    page.keyboard.press("F4")
    page.wait_for_selector("text=These are the shop's own words")
    is_sound(page)


def test_a_letter_in_its_frame_has_its_own_style(browser, served):
    address, links = served
    page = browser(SIZES[2], "counter")
    page.goto(address + links["letter"])
    button = page.frame_locator("iframe.letter-frame").locator(".act a")
    button.wait_for()
    assert button.evaluate("(one) => getComputedStyle(one).backgroundColor") == "rgb(31, 78, 121)"
