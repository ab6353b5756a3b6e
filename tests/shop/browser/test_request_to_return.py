"""A request on the public page, its slip, a box without it, a missing hose, a rush, a changed plan, the way back."""

import datetime as dt

import pytest

from . import from_request_to_return as path

pytestmark = pytest.mark.browser

STANDS = """
import sys
from flueproof.shop.records.models import Job
job = Job.objects.get(number=sys.argv[1])
print(job.state, job.analyzer.serial, job.promised_on, job.complaint)
"""
CLOSED_BY = """
import sys
from flueproof.shop.records.models import Job
job = Job.objects.get(number=sys.argv[1])
last = job.clock_events.filter(kind="delivered").last()
print(job.state, job.closed_at.date() <= job.promised_on, bool(last), job.letters.filter(kind="shipped").count())
"""


def unseen(_name, _page):
    """No picture is wanted."""


def test_a_request_comes_in_and_its_box_is_recognized_asked_about_and_promised(chromium, signed_in, demo_shop):
    who, address = path.chosen(demo_shop), demo_shop.address
    owner = chromium.new_page()
    path.ask_for_it(owner, address, who, unseen)
    slip = owner.request.get(path.send_it(owner, address, demo_shop, who, unseen))
    assert (slip.status, slip.body()[:5]) == (200, b"%PDF-")
    counter = signed_in("marsh")
    path.recognize(counter, address, who, unseen)
    path.ask_for_the_hose(counter, unseen)
    path.answer_by_link(owner, address, demo_shop, unseen)
    number = demo_shop.python(path.JOB, who["serial"]).strip()
    wanted = path.ask_for_a_rush(counter, address, number, unseen)
    state, serial, promised, complaint = demo_shop.python(STANDS, number).strip().split(maxsplit=3)
    assert (state, serial, complaint) == ("arrived", who["serial"], "O2 reads high in fresh air")
    assert dt.date.fromisoformat(promised) == wanted
    owner.close()


def test_a_signed_job_is_packed_shipped_and_closed_on_its_date(signed_in, demo_shop):
    number = demo_shop.python(path.TO_GO_BACK).strip()
    path.send_back(signed_in("marsh"), demo_shop.address, number, unseen)
    assert demo_shop.python(CLOSED_BY, number).split() == ["returned", "True", "True", "1"]
