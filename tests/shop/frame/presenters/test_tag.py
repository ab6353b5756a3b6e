"""The job's tag: serial, owner, promise, what it waits for, in that order, with one next act for who may do it."""

import datetime as dt
import re
from html import unescape

import pytest
from django.template import Context, Template
from django.test import RequestFactory
from django.urls import reverse

from flueproof.shop.frame.presenters.tag import tag_of
from flueproof.shop.records.gas.holding import WAITS_FOR
from flueproof.shop.records.models import Job, Person

TODAY = dt.date(2026, 11, 25)
pytestmark = pytest.mark.django_db


def person(role):
    return Person(username=role, role=role)


def printed(job, role="signer", arguments=""):
    request = RequestFactory().get("/")
    request.user = person(role)
    return Template("{% job_tag job " + arguments + " %}").render(Context({"request": request, "job": job}))


def words(markup):
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def test_it_says_what_is_on_the_paper_tag_in_its_order(job):
    job.waits_for = "a call"
    text = words(printed(job))
    order = [
        "O5-20417",
        "Orrin 5",
        "J-2026-00042",
        "Tidewater",
        "Promised",
        "1\u00a0December\u00a02026",
        "Now",
        "Waits for a call",
    ]
    places = [text.replace("1 December 2026", "1\u00a0December\u00a02026").index(one) for one in order]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("promised", "told"),
    [
        (TODAY + dt.timedelta(days=1), ""),
        (TODAY, "due today"),
        (TODAY - dt.timedelta(days=1), "1 day late"),
        (TODAY - dt.timedelta(days=9), "9 days late"),
        (None, ""),
    ],
)
def test_how_late_it_is(job, promised, told):
    job.promised_on = promised
    assert tag_of(job, person("counter"), TODAY).late == told


def test_a_job_that_left_is_not_late(job):
    job.state, job.promised_on = "returned", TODAY - dt.timedelta(days=9)
    assert tag_of(job, person("counter"), TODAY).late == ""


@pytest.mark.parametrize(
    ("state", "role", "address"),
    [
        ("requested", "counter", "counter:job"),
        ("arrived", "technician", "bench:visit"),
        ("arrived", "counter", ""),
        ("bench", "technician", "bench:visit"),
        ("held", "counter", "counter:job"),
        ("to-sign", "signer", "papers:sign"),
        ("to-sign", "technician", ""),
        ("to-return", "counter", "counter:job"),
        ("returned", "manager", ""),
        ("arrived", "owner", ""),
    ],
)
def test_one_next_act_for_who_may_do_it(job, state, role, address):
    job.state = state
    tag = tag_of(job, person(role), TODAY)
    assert tag.next_address == (reverse(address, args=[job.number]) if address else "")
    assert bool(tag.next_word) == bool(address)
    assert printed(job, role).count('class="next"') == bool(address)


def test_a_job_held_by_a_failed_morning_check_says_so_and_asks_for_a_look_at_the_bench(job):
    job.state, job.waits_for = "held", WAITS_FOR
    assert tag_of(job, person("technician"), TODAY).next_address == reverse("bench:visit", args=[job.number])
    assert tag_of(job, person("counter"), TODAY).next_word == ""
    assert "Waits for a second look at its tests, for a morning check failed" in words(printed(job))


def test_every_open_state_has_an_act_for_somebody(job):
    for state in Job.OPEN:
        job.state = state
        assert any(tag_of(job, person(role), TODAY).next_word for role in ("counter", "technician", "signer")), state


def test_the_act_can_be_left_away_and_an_owner_gets_no_link(job):
    assert 'class="next"' not in printed(job, arguments='"across" "no"')
    assert "<a " not in printed(job, "owner")


def test_what_stands_on_a_plate_is_text_and_no_markup(job):
    job.analyzer.serial = '<b onclick="x()">7</b>'
    job.owner.name = "<script>1</script>"
    markup = printed(job)
    assert "<b onclick" not in markup
    assert "<script>" not in markup
    assert "&lt;b onclick" in markup


def test_rush_and_late_are_words_and_not_color_alone(job):
    job.rush, job.promised_on = True, dt.date(2020, 1, 1)
    text = words(printed(job))
    assert "rush" in text
    assert "days late" in text
