"""The way of one analyzer through the counter, by clicks and keys: asked for, recognized, promised, sent back.

Each step is a function of a page; `seen` is told the name of a moment worth a picture, and the page.
"""

import datetime as dt
import json

from playwright.sync_api import expect

from flueproof.shop.demo_shop.password import DEMO_PASSWORD

CHOOSE = """
import json
from flueproof.shop.records.models import Analyzer, Job
rows = Analyzer.objects.filter(profile="two-cell-residential", control_unit=False, whereabouts="")
rows = rows.filter(loan_unit__isnull=True)
rows = rows.exclude(jobs__state__in=Job.OPEN).filter(owner__contacts__email__contains="@", owner__no_letters=False)
unit = rows.filter(owner__promise_days__isnull=True, owner__pays_first=False).order_by("pk").first()
person, home = unit.owner.contacts.exclude(email="").first(), unit.owner.addresses.first()
print(json.dumps({"firm": unit.owner.name, "contact": person.name, "phone": person.phone or "555-0100",
    "email": person.email, "lines": home.lines if home else "1 Try Street", "town": home.town if home else "Port Alder",
    "postcode": home.postcode if home else "00000", "make": unit.make, "model": unit.model, "serial": unit.serial}))
"""
LETTER = """
import re, sys
from flueproof.shop.records.mailing.seals import unseal
from flueproof.shop.records.models import Letter
letter = Letter.objects.filter(kind=sys.argv[1]).order_by("-pk").first()
print(re.search(r"https?://[^/\\s]+(/\\S+/)", unseal(letter.text)).group(1))
"""
JOB = """
import sys
from flueproof.shop.records.models import Job
print(Job.objects.filter(analyzer__serial=sys.argv[1], state__in=Job.OPEN).get().number)
"""
BENCH = """
import datetime as dt, sys
from django.utils import timezone
from flueproof.shop.demo_shop.scenario import shifted
from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Job, Person, Reference, Shop
from flueproof.shop.records.visits.events import add_step, append
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.opening import open_visit
from flueproof.simulate.demo import demo_records
job, by = Job.objects.get(number=sys.argv[1]), Person.objects.get(username="vale")
steps = next(one for one in demo_records() if one.name == "adjusted").record["steps"]
first = dt.datetime.fromisoformat(steps[0]["at"])
steps = shifted(steps, (timezone.localdate() - first.date()).days)
times = [dt.datetime.fromisoformat(step["at"]) for step in steps]
job = move_job(job, "bench", by, times[0])
visit = open_visit(job, by, times[0], Shop.here())
for code in dict.fromkeys(step["reference"] for step in steps if step.get("reference")):
    append(visit, "reference", {"id": code, "content": Reference.objects.get(code=code).content}, by, times[0])
for step, at in zip(steps, times):
    add_step(visit, {**step, "by": str(by)}, by, at)
move_job(job, "to-sign", by, times[-1] + dt.timedelta(minutes=5))
told = judged(visit).judgement
print(told.as_found.outcome, told.as_left.outcome)
"""
TO_GO_BACK = """
from flueproof.shop.records.models import Job
job = Job.objects.filter(state="to-return", payment_held=False, owner__pays_first=False).order_by("pk").first()
print(job.number)
"""


def chosen(shop):
    """Return what an owner on file knows of an analyzer that is not here."""
    return json.loads(shop.python(CHOOSE))


def ask_for_it(page, address, who, seen):
    """Fill in the public page, step by step, and send it; return the address of the box slip."""
    page.goto(f"{address}/service-request/")
    seen("service-request", page)
    for name in ("firm", "contact", "phone", "email"):
        page.locator(f"[name={name}]").fill(who[name])
    onward(page)
    for name in ("make", "model", "serial"):
        page.locator(f"[name$={name}]:visible").first.fill(who[name])
    onward(page)
    page.locator("[name$=complaint]").first.fill("O2 reads high in fresh air")
    page.locator("[name$=used_on]").first.fill("oil boiler")
    onward(page)
    page.locator("[name$=service][value=verify-adjust]").first.check()
    onward(page)
    for part in ("probe", "hose", "trap"):
        page.locator(f"[name$=enclosed][value='{part}']").first.check()
    onward(page)
    for name in ("lines", "town", "postcode"):
        page.locator(f"[name={name}]").fill(who[name])
    onward(page)
    seen("service-request-check", page)


def onward(page):
    page.locator("main .onward button.act").first.click()
    page.wait_for_load_state("networkidle")


def send_it(page, address, shop, who, seen):
    """Send the request, confirm it by the e-mail's link, and return the address of its box slip."""
    page.get_by_role("button", name="Send the request").click()
    expect(page.get_by_text(who["email"]).first).to_be_visible()
    page.goto(address + shop.python(LETTER, "confirm-request").strip())
    page.get_by_role("button", name="Confirm request").click()
    slip = page.locator("a[href*='slip.pdf']").first
    expect(slip).to_be_visible()
    seen("service-request-sent", page)
    return address + slip.get_attribute("href")


def recognize(page, address, who, seen):
    """Enter a box that came without its slip, by a worn plate and the sender, and take the likeliest by one key."""
    page.goto(f"{address}/boxes/")
    page.keyboard.press("F4")
    page.locator("[name=serial]").fill(who["serial"][:-2] + "?" + who["serial"][-1])
    page.locator("[name=name]").fill(who["firm"].split()[0])
    page.locator("[name=town]").fill(who["town"])
    expect(page.get_by_text("Whose it can be")).to_be_visible()
    expect(page.locator("#ranked")).to_contain_text(who["serial"], timeout=15_000)
    seen("box-recognized", page)
    page.keyboard.press("Escape")
    page.keyboard.press("1")
    page.wait_for_url("**/condition")


def ask_for_the_hose(page, seen):
    """Tick what is there, without the hose that the slip announced, and ask the owner for it."""
    for part in ("probe", "trap"):
        page.locator(f"[name=enclosed][value='{part}']").check()
    page.locator("[name=condition]").fill("dry, a dent at one corner")
    page.keyboard.press("F4")
    expect(page.get_by_text("Not in the box:")).to_be_visible()
    seen("box-condition", page)
    page.get_by_role("button", name="Ask the owner").click()
    expect(page.get_by_text("not answered").first).to_be_visible()


def answer_by_link(page, address, shop, seen):
    """Answer the question as the owner does, by the link in the e-mail."""
    link = address + shop.python(LETTER, "question").strip()
    page.goto(link)
    seen("answer-by-link", page)
    page.locator("[name=choice]").nth(1).check()
    page.locator("[name=name]").fill("Pat (invented)")
    page.get_by_role("button", name="Send the answer").click()
    page.wait_for_load_state("networkidle")
    page.goto(link)
    expect(page.get_by_role("button", name="Send the answer")).to_have_count(0)


def ask_for_a_rush(page, address, number, seen):
    """Plan anew, ask whether the job can be done by the next business day, 15:00, and take it for the first yes.

    Return that day, and what was answered to the first question.
    """
    page.goto(f"{address}/promises/")
    with page.expect_navigation():
        page.keyboard.press("p")
    expect(page.locator("svg").first).to_be_visible(timeout=30_000)
    page.locator("[name=job]").fill(number)
    assert page.locator("[name=by_time]").input_value() == "15:00"
    day, first = dt.date.fromisoformat(page.locator("[name=by_day]").input_value()), ""
    for _ in range(15):
        page.locator("[name=by_day]").fill(day.isoformat())
        with page.expect_response("**/promises/can?**"):
            page.get_by_role("button", name="Can it be done by then?").click()
        expect(page.locator("#answer .word")).to_be_visible(timeout=30_000)
        first = first or page.locator("#answer").inner_text()
        if page.locator("#answer .word").inner_text() == "Yes":
            break
        day += dt.timedelta(days=1)
    seen("asked-on-the-phone", page)
    page.get_by_role("button", name="Take it", exact=True).click()
    expect(page.get_by_text(f"{number} taken for").first).to_be_visible()
    page.goto(f"{address}/promises/")
    seen("promises", page)
    return day, first


def tell_the_owner(page, address, number):
    """Send the owner the e-mail that says where the job stands."""
    page.goto(f"{address}/jobs/{number}")
    page.get_by_role("button", name="Send where it stands").click()
    expect(page.get_by_text("It goes to").first).to_be_visible()


def sign(page, address, number, seen):
    """Look at the papers of a job that is to be signed, and sign them."""
    page.goto(f"{address}/papers/sign/{number}/")
    page.locator(".pictures img").first.wait_for()
    seen("signing-of-the-way", page)
    page.locator("[name=password]").fill(DEMO_PASSWORD)
    page.get_by_role("button", name="Sign the certificate").click()
    page.get_by_role("heading", name="FP-").first.wait_for()


def send_back(page, address, number, seen):
    """Pack a signed job against what came, ship it, and note that it was delivered, which closes the job."""
    page.goto(f"{address}/jobs/{number}/pack-out")
    all_back = page.get_by_role("button", name="All of it goes back")
    if all_back.count():
        all_back.click()
    for check in page.locator("[name^=check-]").all():
        if check.get_attribute("name") != "check-photo":
            check.check()
    page.locator("#why-photo").fill("no camera at hand")
    seen("pack-out", page)
    page.keyboard.press("F4")
    page.wait_for_load_state("networkidle")
    page.goto(f"{address}/jobs/{number}/ship")
    page.locator("[name=carrier]").fill("Carrier (invented)")
    page.locator("[name=tracking]").fill(f"TRY {number}")
    page.keyboard.press("F4")
    page.wait_for_url(f"**/jobs/{number}")
    page.locator("#delivered-to").fill("front desk")
    page.get_by_role("button", name="It was delivered").click()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_text("returned").first).to_be_visible()
