"""A part that is fitted at the bench comes out of the parts store with its step."""

import datetime as dt
import html

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Part, StockMove
from flueproof.shop.records.stock.ledger import Pen
from flueproof.shop.records.stock.receiving import Delivery, receive, set_state


@pytest.fixture
def lot(people, open_shop):
    part = Part.objects.create(code="CELL-CO", title="co cell", kind="cell", shelf_months=12)
    made = timezone.localdate() - dt.timedelta(30)
    return receive(part, Delivery("CO-1", 2, made=made), Pen(people["technician"], timezone.now())).lot


@pytest.fixture
def fit(technician_client, visit, add, job, page_id):
    """Return a function that sends the form of a part."""
    add("visual", text="Water: none seen in trap and hose.")
    add("note", text="Memory: this unit stores nothing.")
    form = {"page": page_id, "done": "replaced", "what": "co cell", "serial": "B9", "opened_case": "yes"}
    return lambda **more: technician_client.post(reverse("bench:step", args=[job.number, "part"]), {**form, **more})


def steps(visit):
    return [event.kind for event in visit.events.all()].count("step")


def test_one_piece_leaves_with_the_step_and_the_cell_keeps_its_lot(fit, lot, visit, job):
    for _ in range(2):
        assert fit(lot="co-1").status_code == 302
    lot.refresh_from_db()
    assert lot.on_hand == 1
    move = StockMove.objects.get(kind="taken")
    assert (move.job, move.serials, move.event.visit) == (job, ["B9"], visit)
    cell = job.analyzer.cells.get(gas="co", removed=None)
    assert (cell.serial, cell.lot, cell.made) == ("B9", "CO-1", lot.made.isoformat())


def test_a_recalled_lot_is_refused_with_the_reason_and_nothing_is_recorded(fit, lot, visit, people):
    set_state(lot, "recalled", "low output", Pen(people["technician"], timezone.now()))
    before = steps(visit)
    answer = fit(lot="CO-1")
    assert answer.status_code == 422
    assert "low output" in html.unescape(answer.content.decode())
    assert steps(visit) == before
    assert not StockMove.objects.filter(kind="taken").exists()


def test_a_part_that_is_not_from_the_store_is_asked_about_once_and_recorded(fit, lot, visit):
    before = steps(visit)
    asked = fit()
    assert "is this one not from the store?" in html.unescape(asked.content.decode())
    assert fit(asked=asked.context["form"].data["asked"]).status_code == 302
    assert steps(visit) == before + 1
    lot.refresh_from_db()
    assert lot.on_hand == 2


def test_a_scan_at_the_bench_tells_what_the_lot_is(technician_client, lot, visit, job):
    asked = {"code": "CO-1", "job": job.number}
    found = technician_client.get(reverse("bench:scanned"), asked).json()
    assert (found["what"], found["code"], found["title"], found["refused"]) == ("part", "CO-1", "co cell", False)
