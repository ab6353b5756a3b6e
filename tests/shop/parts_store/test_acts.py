"""Each act of the Parts page: works, counts once, keeps what was typed, refuses with the reason."""

import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Part, StockMove
from flueproof.shop.records.stock.ledger import on_order, reserved_for


def send(client, name, *args, **data):
    return client.post(reverse(f"parts_store:{name}", args=args), data)


def left(lot):
    lot.refresh_from_db()
    return lot.on_hand


def test_a_delivery_is_received_once_however_often_it_is_sent(technician_client, cell):
    form = {
        "page": str(uuid.uuid4()),
        "code": "4009",
        "lot": "CO-9",
        "count": 2,
        "made": timezone.localdate().isoformat(),
    }
    for _ in range(2):
        assert send(technician_client, "receive", **form).status_code == 302
    assert cell.lots.get().on_hand == 2


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"code": "nowhere"}, "no part and no lot"),
        ({"made": "2019-01-01"}, "send it back"),
        ({"made": ""}, "ages from manufacture"),
        ({"count": "-1"}, "greater than or equal"),
        ({"serials": "A1"}, "all or none"),
    ],
)
def test_a_wrong_delivery_is_told_and_what_was_typed_stays(technician_client, cell, change, words):
    form = {"code": "CELL-CO", "lot": "TYPED-LOT", "count": 2, "made": timezone.localdate().isoformat()} | change
    answer = send(technician_client, "receive", **form)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert "TYPED-LOT" in answer.content.decode()
    assert not StockMove.objects.exists()


def test_a_piece_is_taken_by_the_code_of_its_part_for_a_job(technician_client, lot, job):
    assert send(technician_client, "take", code="cell-co", count=1, job=job.number).status_code == 302
    assert left(lot) == 2


@pytest.mark.parametrize(
    ("change", "words"), [({"count": 9}, "by the books"), ({"job": "J-0"}, "No open job"), ({"job": ""}, "which job")]
)
def test_what_cannot_go_out_is_told(technician_client, lot, job, change, words):
    answer = send(technician_client, "take", **{"code": "CO-1", "count": 1, "job": job.number} | change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert left(lot) == 3


def test_a_count_is_written_and_a_difference_asks_why(technician_client, lot):
    form = {"lot": lot.pk, "seen": 3, "counted": 2}
    assert "or say why" in send(technician_client, "count", **form).content.decode()
    assert send(technician_client, "count", **form, why="broken").status_code == 302
    assert left(lot) == 2


def test_the_count_page_shows_the_scanned_lot_or_says_that_there_is_none(technician_client, lot):
    shown = technician_client.get(reverse("parts_store:count"), {"code": "co-1"}).content.decode()
    assert "by the books" in shown
    assert "no part and no lot" in technician_client.get(reverse("parts_store:count"), {"code": "zz"}).content.decode()


def test_pieces_come_back_go_away_and_a_move_is_put_right(technician_client, lot, job):
    send(technician_client, "take", code="CO-1", count=2, job=job.number)
    assert send(technician_client, "back", lot.pk, count=1, job=job.number).status_code == 302
    assert send(technician_client, "back", lot.pk, count=5).status_code == 422
    assert send(technician_client, "away", lot.pk, count=1, why="dropped").status_code == 302
    assert left(lot) == 1
    away = StockMove.objects.get(kind="thrown-away")
    assert send(technician_client, "correct", away.pk, why="was not broken").status_code == 302
    assert send(technician_client, "correct", away.pk, why="again").status_code == 422
    assert left(lot) == 2


def test_orders_and_reservations(counter_client, cell, job):
    for name, data in (("order", {"order-count": 4}), ("reserve", {"reserve-job": job.number, "reserve-count": 1})):
        assert send(counter_client, name, cell.pk, **data).status_code == 302
        assert send(counter_client, name, cell.pk).status_code == 422
    assert (on_order(cell), reserved_for(cell, job)) == (4, 1)
    assert job.number in counter_client.get(reverse("parts_store:picking")).content.decode()
    send(counter_client, "drop-order", cell.pk, **{"drop-why": "sold out"})
    send(counter_client, "let-go", cell.pk, job=job.number)
    assert (on_order(cell), reserved_for(cell, job)) == (0, 0)


def test_a_lot_is_recalled_with_its_reason(manager_client, lot):
    assert send(manager_client, "lot", lot.pk, state="recalled").status_code == 422
    assert send(manager_client, "lot", lot.pk, state="recalled", why="low output").status_code == 302
    assert "low output" in manager_client.get(reverse("parts_store:lot", args=[lot.pk])).content.decode()


NEW = {
    "code": "P-1",
    "title": "pump <b>",
    "kind": "pump",
    "lead_days": 5,
    "late_days": 0,
    "pack": 1,
    "least_order": 1,
    "guess_a_year": 3,
    "in_use": "on",
    "models_fitted": "Orrin 5\nOrrin 5",
}


def test_a_part_is_added_escaped_and_changed(manager_client, shop):
    assert send(manager_client, "new", **NEW).status_code == 302
    row = Part.objects.get()
    assert row.models_fitted == ["Orrin 5"]
    assert "pump <b>" not in manager_client.get(reverse("parts_store:list")).content.decode()
    send(manager_client, "change", row.pk, **NEW | {"title": "pump", "seen_version": row.version})
    assert Part.objects.get().title == "pump"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"code": "a/b"}, "no spaces"),
        ({"kind": "cell"}, "ages from manufacture"),
        ({"late_days": 2}, "later than usual"),
        ({"guess_a_year": 0}, "greater than"),
    ],
)
def test_a_wrong_part_is_told(manager_client, shop, change, words):
    answer = send(manager_client, "new", **NEW | change)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Part.objects.exists()


def test_the_list_goes_away_as_csv_without_formulas(manager_client, lot, cell):
    cell.title = "=HYPERLINK(1)"
    cell.save()
    lines = manager_client.get(reverse("parts_store:csv")).content.decode().splitlines()
    assert lines[1].startswith("CELL-CO,'=HYPERLINK(1),cell")


@pytest.mark.parametrize("name", ["order", "drop-order", "reserve", "let-go"])
def test_a_look_does_nothing(technician_client, cell, name):
    assert technician_client.get(reverse(f"parts_store:{name}", args=[cell.pk])).status_code == 405


def test_a_scan_finds_a_lot_a_part_or_says_that_there_is_none(technician_client, lot, cell):
    found = [
        technician_client.get(reverse("parts_store:find"), {"code": code})["Location"]
        for code in ("co-1", "4009", "zz")
    ]
    assert found == [
        reverse("parts_store:lot", args=[lot.pk]),
        reverse("parts_store:part", args=[cell.pk]),
        reverse("parts_store:list"),
    ]
