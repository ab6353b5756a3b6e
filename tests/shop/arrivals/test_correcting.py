"""Boxes that stay unknown keep what was read, and what was wrong is put right by adding."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Arrival, Job


def press(client, act, box, **said):
    return client.post(reverse(f"arrivals:{act}", args=[box.pk]), said)


def test_a_box_is_kept_with_what_could_be_read_and_where_it_lies(counter_client, unknown):
    answer = press(counter_client, "aside", unknown, serial="O5-2?4", phone="0100", note="shelf 3, left")
    box = Arrival.objects.get()
    assert answer["Location"] == reverse("arrivals:boxes")
    assert (box.clues, box.note, box.state) == ({"serial": "O5-2?4", "phone": "0100"}, "shelf 3, left", "open")
    assert "shelf 3, left" in counter_client.get("/boxes/").content.decode()


def test_a_strangers_box_waits_until_its_owner_is_found(counter_client, unknown):
    for _ in range(2):
        press(counter_client, "aside", unknown, **{"as": "stranger"}, name="Quillfeather")
    box = Arrival.objects.get()
    assert (box.state, box.clues) == ("stranger", {"name": "Quillfeather"})
    assert "owner to be found" in counter_client.get("/boxes/").content.decode()


def test_a_box_that_somebody_knew_meanwhile_is_not_put_aside(counter_client, known):
    answer = press(counter_client, "aside", known, serial="typed here")
    assert answer.status_code == 409
    assert "typed here" in answer.content.decode()


def test_the_wrong_one_is_put_back_with_the_reason(counter_client, known):
    answer = press(counter_client, "put-back", known, why="plate says O5-20471")
    assert answer["Location"] == reverse("arrivals:box", args=[known.pk])
    assert (Arrival.objects.get().state, Job.objects.get().state) == ("open", "requested")
    assert press(counter_client, "put-back", known, why="again").status_code == 302
    assert Job.objects.get().moments.filter(what="wrong box, put back").count() == 1


def test_putting_back_needs_a_reason(counter_client, known):
    answer = press(counter_client, "put-back", known, why=" ")
    assert answer.status_code == 422
    assert "Say what was wrong" in answer.content.decode()
    assert Arrival.objects.get().state == "known"


def test_a_box_that_never_was_is_struck_out_and_one_with_a_job_is_not(counter_client, unknown):
    assert press(counter_client, "mistake", unknown).status_code == 422
    assert press(counter_client, "mistake", unknown, why="scanned twice").status_code == 302
    assert "Entered by mistake" in counter_client.get("/boxes/").content.decode()


def test_a_known_box_is_not_struck_out(counter_client, known):
    assert press(counter_client, "mistake", known, why="no").status_code == 422
    assert Arrival.objects.get().state == "known"


def test_only_a_press_does_it(counter_client, unknown):
    for name in ("aside", "put-back", "mistake", "not-its-slip"):
        assert counter_client.get(reverse(f"arrivals:{name}", args=[unknown.pk])).status_code == 405


@pytest.mark.parametrize(("page", "more"), [("aside", {}), ("take", {"choice": "owner-1"})])
def test_more_than_is_kept_is_refused_in_words_and_stays_typed(counter_client, unknown, page, more):
    plate = "O5-" + "7" * 10_000
    answer = counter_client.post(reverse(f"arrivals:{page}", args=[unknown.pk]), {"serial": plate, **more})
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert "Serial on the plate: Ensure this value has at most 60 characters (it has 10003)." in shown
    assert plate in shown
    unknown.refresh_from_db()
    assert unknown.clues == {"serial": "O5-2?417"}


def test_a_note_keeps_its_lines_and_loses_what_nobody_sees(counter_client, unknown):
    said = {"serial": "O5-2?417", "note": "on the left\r\n\u202eshelf\x07 3"}
    counter_client.post(reverse("arrivals:aside", args=[unknown.pk]), said)
    unknown.refresh_from_db()
    assert unknown.note == "on the left\nshelf 3"
