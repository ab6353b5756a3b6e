"""The list of boxes, and a box that is scanned: settled at once, or asked for."""

import pytest
from django.urls import reverse

from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.intake.condition import ask_for
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.models import Analyzer, Arrival, Job

NEW = "/boxes/new"


def scan(client, text, **more):
    return client.post(NEW, {"scan": text, **more})


def test_boxes_that_nobody_knows_stand_first_then_those_that_wait(counter_client, known, by, now):
    job = Job.objects.get()
    job.condition, job.enclosed = "dry", ["probe", "trap"]
    job.save()
    ask_for(job, ["hose"], by, now)
    scan(counter_client, "")
    page = counter_client.get("/boxes/").content.decode()
    assert page.index("Not known yet") < page.index("Wait for an answer")
    assert "<b>Asked for:</b> hose" in page
    assert "Came today" not in page


def test_an_empty_list_says_what_to_do(counter_client, shop):
    assert "Scan the slip of the first one" in counter_client.get("/boxes/").content.decode()


def test_a_slip_settles_it_at_once(counter_client, slip):
    answer = scan(counter_client, slip.slip.lower())
    box = Arrival.objects.get()
    assert answer["Location"] == reverse("arrivals:condition", args=[box.pk])
    assert (box.state, box.slip, box.job.state) == ("known", slip.slip, "arrived")


def test_the_number_of_a_job_settles_it_and_the_plate_of_an_awaited_analyzer_does(counter_client, awaited):
    assert "condition" in scan(counter_client, "j-2026-00050")["Location"]
    assert Job.objects.get().state == "arrived"


def test_the_plate_of_an_awaited_analyzer_settles_it(counter_client, awaited):
    assert "condition" in scan(counter_client, "o5 20417")["Location"]
    assert Arrival.objects.get().job == awaited


def test_a_plate_that_two_makes_have_is_asked_for(counter_client, awaited, owner):
    Analyzer.objects.create(owner=owner, make="Velm", model="V2", serial="O5-20417")
    answer = scan(counter_client, "O5-20417")
    assert answer["Location"] == reverse("arrivals:box", args=[Arrival.objects.get().pk])
    page = counter_client.get(answer["Location"]).content.decode()
    assert "Velm V2" in page
    assert "Orrin 5" in page
    assert Job.objects.get().state == "requested"


def test_a_box_without_a_slip_is_written_down_and_the_same_press_twice_is_one_box(counter_client, shop):
    for _ in range(2):
        answer = scan(counter_client, "", page="one-page")
    assert Arrival.objects.count() == 1
    assert answer["Location"] == reverse("arrivals:box", args=[Arrival.objects.get().pk])


def test_a_second_box_with_one_slip_asks_what_is_in_it_and_can_be_parts_of_the_job(counter_client, slip):
    scan(counter_client, slip.slip)
    second = scan(counter_client, slip.slip)["Location"]
    page = counter_client.get(second).content.decode()
    assert "It came already, with" in page
    box = Arrival.objects.order_by("-pk")[0]
    answer = counter_client.post(reverse("arrivals:take", args=[box.pk]), {"choice": f"job-{slip.job_id}"})
    assert "condition" in answer["Location"]
    assert slip.job.arrivals.count() == 2


def test_a_second_box_with_one_slip_can_be_another_analyzer(counter_client, slip):
    scan(counter_client, slip.slip)
    scan(counter_client, slip.slip)
    box = Arrival.objects.order_by("-pk")[0]
    counter_client.post(reverse("arrivals:not-its-slip", args=[box.pk]))
    box.refresh_from_db()
    assert (box.slip, box.state) == ("", "open")
    assert slip.slip in box.note


@pytest.mark.parametrize(("choice", "first_job"), [("again", False), ("comeback", True)])
def test_the_slip_of_a_closed_job_opens_a_new_one_when_a_person_says_so(counter_client, slip, choice, first_job):
    slip.job.state = "returned"
    slip.job.save()
    page = counter_client.get(scan(counter_client, slip.slip)["Location"]).content.decode()
    assert "an old slip may lie in the case of another analyzer" in page
    assert Job.objects.count() == 1
    box = Arrival.objects.get()
    counter_client.post(reverse("arrivals:take", args=[box.pk]), {"choice": f"{choice}-{slip.job_id}"})
    made = Job.objects.exclude(pk=slip.job_id).get()
    assert (made.state, made.first_job_id) == ("arrived", slip.job_id if first_job else None)


def test_two_analyzers_in_one_box_share_its_number(counter_client, known):
    page = counter_client.get(f"{NEW}?box={known.box}").content.decode()
    assert f"Another analyzer in {known.box}" in page
    scan(counter_client, "", box=known.box)
    assert Arrival.objects.filter(box=known.box).count() == 2
    assert "also in this box" in counter_client.get(reverse("arrivals:condition", args=[known.pk])).content.decode()


def test_a_scan_that_is_far_too_long_is_refused_in_words(counter_client, shop):
    answer = scan(counter_client, "x" * 500)
    assert answer.status_code == 422
    assert "too long" in answer.content.decode()
    assert not Arrival.objects.exists()


def test_a_request_for_an_analyzer_that_is_here_already_asks(counter_client, slip, by, now, unknown):
    take_job(unknown, slip.job, by, now)
    page = counter_client.get(scan(counter_client, slip.slip)["Location"]).content.decode()
    assert "is here, not on the bench" in page


def test_who_may_not_receive_boxes_is_refused(owner_client, client_of, shop):
    assert owner_client.get("/boxes/").status_code == 403
    assert client_of("stranger").post(NEW).status_code == 302


def test_many_boxes_at_once_have_a_number_each_and_all_are_shown(counter_client, shop, by, now):
    boxes = [enter_box(by, now, clues={"serial": f"O5-{number}"}) for number in range(60)]
    page = counter_client.get(reverse("arrivals:boxes")).content.decode()
    assert len({box.box for box in boxes}) == 60
    assert all(box.box in page for box in boxes)
    assert 'data-key="9"' in page
    assert 'data-key="10"' not in page
