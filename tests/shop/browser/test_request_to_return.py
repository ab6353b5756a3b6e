"""One job all the way: asked for, its box recognized without a slip, asked about, rushed, signed, back on its date."""

import datetime as dt
import re

import pytest

from . import from_request_to_return as path
from .later import later

pytestmark = pytest.mark.browser

STANDS = """
import sys
from flueproof.shop.records.models import Job
job = Job.objects.get(number=sys.argv[1])
print(job.state, job.analyzer.serial, job.promised_on, job.complaint)
"""
PLANNED = """
import sys
from flueproof.shop.records.models import Plan
from flueproof.shop.records.promises.planning import latest_plan
taken = Plan.objects.filter(why__startswith=sys.argv[1] + " taken for")
print(taken.count(), sys.argv[1] in latest_plan().content["jobs"])
"""
SAID = """
import sys
from flueproof.shop.records.models import Letter
print(Letter.objects.filter(job__number=sys.argv[1], kind="follow").get().text)
"""
CLOSED = """
import sys
from django.utils import timezone
from flueproof.shop.records.models import Job
from flueproof.shop.records.promises.clock import clock_of
job = Job.objects.get(number=sys.argv[1])
state = clock_of(job, timezone.now())
print(job.state, job.promised_on, timezone.localtime(job.closed_at).date(), state.status, state.is_late)
print(job.papers.count(), *sorted(set(job.letters.values_list("kind", flat=True))))
"""


def unseen(_name, _page):
    """No picture is wanted."""


def written(day):
    """Return a day as pages write it."""
    return f"{day.day} {day:%B %Y}"


def the_same_day_stands(counter, owner, shop, number, day, follow):
    """The bench's page of the job, its list of promises and the owner's page of the same job say this day."""
    counter.goto(f"{shop.address}/jobs/{number}")
    said = counter.locator("section.promise .sentence")
    said.wait_for()
    assert written(day) in said.inner_text()
    owner.goto(shop.address + follow)
    assert owner.locator(".promise").inner_text() == said.inner_text()
    counter.goto(f"{shop.address}/promises/?all=yes")
    row = counter.locator("tr", has_text=number).first
    assert f"{day.day} {day:%b %Y}" in row.inner_text().replace("\xa0", " ")


def test_one_job_goes_from_a_request_to_its_return_on_the_promised_day(chromium, signed_in, demo_shop, tmp_path):
    who, address = path.chosen(demo_shop), demo_shop.address
    owner = chromium.new_page()
    path.ask_for_it(owner, address, who, unseen)
    slip = owner.request.get(path.send_it(owner, address, demo_shop, who, unseen))
    assert (slip.status, slip.body()[:5]) == (200, b"%PDF-")

    counter = signed_in("marsh")
    path.recognize(counter, address, who, unseen)
    number = demo_shop.python(path.JOB, who["serial"]).strip()
    path.ask_for_the_hose(counter, unseen)
    path.answer_by_link(owner, address, demo_shop, unseen)
    follow = demo_shop.python(path.LETTER, "box-arrived").strip()
    usual = dt.date.fromisoformat(demo_shop.python(STANDS, number).split()[2])
    the_same_day_stands(counter, owner, demo_shop, number, usual, follow)

    day, answered = path.ask_for_a_rush(counter, address, number, unseen)
    assert re.match(r"Yes|No|Only by breaking", answered)
    assert demo_shop.python(PLANNED, number).split() == ["1", "True"]
    state, serial, promised, complaint = demo_shop.python(STANDS, number).strip().split(maxsplit=3)
    assert (state, serial, complaint) == ("arrived", who["serial"], "O2 reads high in fresh air")
    assert dt.date.fromisoformat(promised) == day < usual
    path.tell_the_owner(counter, address, number)
    assert f"We promise it for {written(day)}." in demo_shop.python(SAID, number)
    the_same_day_stands(counter, owner, demo_shop, number, day, follow)

    afternoon = dt.datetime.combine(day, dt.time(19), tzinfo=dt.UTC)  # two o'clock in the shop, and no other day
    with later(demo_shop, afternoon, tmp_path) as shop:
        assert shop.python(path.BENCH, number).split() == ["work-needed", "ready-to-sign"]
        counter = signed_in("marsh", at=shop.address)
        the_same_day_stands(counter, owner, shop, number, day, follow)
        path.sign(signed_in("alder", at=shop.address), shop.address, number, unseen)
        path.send_back(counter, shop.address, number, unseen)
        job, letters = shop.python(CLOSED, number).splitlines()
        assert job.split() == ["returned", day.isoformat(), day.isoformat(), "done", "False"]
        papers, *kinds = letters.split()
        assert papers == "1"
        assert {"box-arrived", "question", "follow", "shipped", "delivered"} <= set(kinds)
    owner.close()
