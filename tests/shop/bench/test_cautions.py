"""Each caution of the handbook's table stands on the page of its step."""

import re
from html import unescape
from pathlib import Path

import pytest
from django.urls import reverse

from flueproof.shop.bench.forms.kinds import FORMS
from flueproof.shop.records.models import Job
from shop.cylinders import make_control_unit, make_cylinder

PAGE = Path(__file__).resolve().parents[3] / "docs/guide/cautions.md"
ROWS = [
    (step.strip(), said.strip())
    for step, said in re.findall(r"(?m)^\| ([^|]+) \| ([^|]+) \|$", PAGE.read_text(encoding="utf-8"))
    if step.strip() != "step"
]
# What the shop must say at least, whatever becomes of the table: words -> kind of step, or place.
ASKED_FOR = {
    "Vent outdoors": "bench, next step with gas",
    "CO alarm": "bench, next step with gas",
    "Cylinder chained": "bench, next step with gas",
    "Pump off in ice or water": "bench, `temperature`",
    "Plug no longer than ten seconds": "bench, `plug-test`",
    "Power off until this is done": "bench, `drain`",
    "Cells hold lead, acid or lye": "bench, `part`",
}


@pytest.fixture
def shown(technician_client, visit, job, ready):
    """Return a function place of the table -> the text of the page."""

    def live(**fields):
        sent = {
            "visit": visit.pk,
            "kind": "test-gas",
            "point": "",
            "feed": "tip",
            "probe": "owner",
            "code": "CYL-CO-500",
        }
        technician_client.post(reverse("live:begin"), {**sent, **fields})
        return reverse("live:panel", args=[visit.pk])

    def taking_in():
        boxed = Job.objects.create(
            number="J-2026-00077", owner=job.owner, analyzer=job.analyzer, state="requested", opened_at=job.opened_at
        )
        return reverse("counter:job", args=[boxed.number])

    make_control_unit(job.owner)
    make_cylinder("CYL-0007")
    make_cylinder("CYL-0009", state="new")
    places = {
        "job, taking in the box": taking_in,
        "bench, next step with gas": lambda: reverse("bench:visit", args=[job.number]),
        "bench, gas about to go on": live,
        "several on one bottle": lambda: f"{reverse('live:set')}?with={job.number}",
        "gas rack, morning check": lambda: reverse("gas_rack:morning"),
        "gas rack, new bottle against the old": lambda: reverse("gas_rack:compare", args=["CYL-0009"]),
        "flue gas": lambda: reverse("flue:page"),
        "duties": lambda: reverse("duties:list"),
        "what its error did": lambda: reverse("impact:analyzer", args=[job.analyzer_id]),
        "gas rack, bottle": lambda: reverse("gas_rack:reference", args=["CYL-0007"]),
    }

    def ask(place):
        kind = re.fullmatch(r"bench, `([a-z-]+)`", place)
        address = reverse("bench:step", args=[job.number, kind[1]]) if kind else places[place]()
        answer = technician_client.get(address)
        assert answer.status_code == 200
        return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())).split())

    return ask


@pytest.mark.parametrize(("place", "said"), ROWS, ids=[f"{place}: {said}" for place, said in ROWS])
def test_a_caution_stands_where_the_hand_is(shown, place, said):
    assert said in shown(place)


@pytest.mark.parametrize(("words", "place"), ASKED_FOR.items())
def test_the_table_holds_what_no_bench_may_leave_out(words, place):
    assert any(where == place and words in said for where, said in ROWS)


@pytest.mark.parametrize("kind", FORMS)
def test_every_caution_of_a_form_is_in_the_table(kind):
    table = [said for place, said in ROWS if place == f"bench, `{kind}`"]
    for caution in FORMS[kind].cautions:
        assert any(said in caution for said in table), caution
