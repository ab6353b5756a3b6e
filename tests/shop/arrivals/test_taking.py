"""One press takes a box as somebody's; who was never here is put on file; who is reported missing stops it."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Analyzer, Arrival, Job, Owner, OwnerContact, RequestedAnalyzer, ServiceRequest


def take(client, box, choice, **clues):
    return client.post(reverse("arrivals:take", args=[box.pk]), {"choice": choice, **clues})


def newcomer(client, box, **said):
    full = {"make": "Orrin", "model": "Orrin 5", "serial": "O5-9", "profile": "two-cell-residential", **said}
    return client.post(reverse("arrivals:newcomer", args=[box.pk]), full)


def test_a_candidate_is_taken_and_what_the_ranking_said_is_kept(counter_client, unknown, awaited):
    answer = take(counter_client, unknown, f"analyzer-{awaited.analyzer_id}", serial="O5-2?417", town="Port Alder")
    box = Arrival.objects.get()
    assert answer["Location"] == reverse("arrivals:condition", args=[box.pk])
    assert (box.state, box.job, box.clues["town"]) == ("known", awaited, "Port Alder")
    assert box.weighed["candidates"][0]["analyzer"] == awaited.analyzer_id
    assert take(counter_client, unknown, f"analyzer-{awaited.analyzer_id}", serial="O5-2?417")["Location"]
    assert Job.objects.count() == 1


def test_somebody_was_faster_and_what_was_typed_stays(counter_client, known, owner):
    other = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-1")
    answer = take(counter_client, known, f"analyzer-{other.pk}", serial="O5-1", town="Typed Town")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Somebody was faster" in page
    assert "Typed Town" in page
    assert Arrival.objects.get().analyzer == known.analyzer


@pytest.mark.parametrize("choice", ["", "analyzer-", "analyzer-x", "nonsense-1", "analyzer-99999999999999999999"])
def test_a_choice_that_no_page_offers_is_refused(counter_client, unknown, choice):
    answer = take(counter_client, unknown, choice, serial="O5-2?417")
    assert answer.status_code == 422
    assert "Choose one of those shown" in answer.content.decode()


def test_a_choice_that_is_gone_is_refused(counter_client, unknown):
    answer = take(counter_client, unknown, "analyzer-987654321012345678", serial="O5-2?417")
    assert answer.status_code == 422
    assert "not on file any more" in answer.content.decode()


def test_an_analyzer_reported_stolen_stops_says_what_to_do_and_accuses_nobody(counter_client, unknown, analyzer):
    analyzer.whereabouts, analyzer.whereabouts_words = "stolen", "by A. Quay on the phone"
    analyzer.save()
    answer = take(counter_client, unknown, f"analyzer-{analyzer.pk}", serial="O5-20417")
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Stop: keep this box aside" in page
    assert "in good faith" in page
    assert "555-0100" in page
    assert not Job.objects.exists()
    assert "thief" not in page
    kept = take(counter_client, unknown, f"aside-{analyzer.pk}", serial="O5-20417")
    assert "condition" in kept["Location"]
    assert Job.objects.get().state == "held"


def test_one_that_was_sold_on_becomes_the_new_owners_as_found_first(counter_client, unknown, analyzer):
    to = Owner.objects.create(name="Moss & Reed (invented)")
    take(counter_client, unknown, f"sold-{analyzer.pk}-{to.pk}", serial="O5-20417")
    job = Job.objects.get()
    assert (job.owner, job.analyzer.as_found_needed) == (to, True)
    page = counter_client.get(reverse("arrivals:condition", args=[unknown.pk])).content.decode()
    assert "Nothing but as found first" in page


def test_a_new_analyzer_of_an_owner_on_file_begins_with_the_clues(counter_client, unknown, owner):
    answer = take(counter_client, unknown, f"owner-{owner.pk}", serial="O5-77", make="Orrin", model="Orrin 5")
    page = counter_client.get(answer["Location"]).content.decode()
    assert owner.name in page.replace("&amp;", "&")
    assert 'value="O5-77"' in page
    newcomer(counter_client, unknown, owner=owner.pk, serial="O5-77")
    assert Job.objects.get().analyzer.serial == "O5-77"
    assert Arrival.objects.get().state == "known"


def test_a_serial_with_unread_characters_is_never_put_on_file(counter_client, unknown, owner):
    page = counter_client.get(f"{reverse('arrivals:newcomer', args=[unknown.pk])}?owner={owner.pk}").content.decode()
    assert 'value="O5-2?417"' not in page
    answer = newcomer(counter_client, unknown, owner=owner.pk, serial="O5-2?417")
    assert answer.status_code == 422
    assert "Give the whole serial" in answer.content.decode()
    newcomer(counter_client, unknown, owner=owner.pk, serial="")
    assert Job.objects.get().analyzer.serial.startswith("not read yet")


def test_a_stranger_is_put_on_file_with_the_box(counter_client, unknown, shop):
    answer = take(counter_client, unknown, "sender-0", serial="ZZ-1", name="Quillfeather Furnace")
    assert "Quillfeather Furnace" in counter_client.get(answer["Location"]).content.decode()
    newcomer(counter_client, unknown, owner_name="Quillfeather Furnace", contact="Q.", phone="555-0190", serial="ZZ-1")
    assert Job.objects.get().owner.contacts.get().phone == "555-0190"
    assert newcomer(counter_client, unknown, owner_name="Again").status_code == 302
    assert not Owner.objects.filter(name="Again").exists()


def test_make_and_serial_that_are_on_file_are_not_made_twice(counter_client, unknown, analyzer):
    answer = newcomer(counter_client, unknown, owner_name="Quillfeather", serial="O5-20417")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "on file already" in page
    assert 'value="Quillfeather"' in page
    assert not Owner.objects.filter(name="Quillfeather").exists()


def test_a_slip_of_one_who_is_not_on_file_puts_owner_analyzer_and_order_on_file(counter_client, unknown, now):
    request = ServiceRequest.objects.create(
        code="R-1", state="confirmed", firm="Thornaby Stoves (invented)", phone="555-0161", made_at=now
    )
    asked = RequestedAnalyzer.objects.create(
        request=request, slip="AAAA-1111", make="Velm", model="V2", serial="TH-9", complaint="CO drifts"
    )
    answer = take(counter_client, unknown, f"request-{asked.pk}", serial="TH-9")
    page = counter_client.get(answer["Location"]).content.decode()
    assert 'value="Thornaby Stoves (invented)"' in page
    newcomer(
        counter_client, unknown, owner_name=request.firm, make="Velm", model="V2", serial="TH-9", requested=asked.pk
    )
    job = Job.objects.get()
    request.refresh_from_db()
    assert (job.complaint, job.state, request.state) == ("CO drifts", "arrived", "taken")
    assert OwnerContact.objects.filter(owner=job.owner).count() == 0


def test_a_technician_takes_a_box_but_puts_nobody_on_file(technician_client, unknown, awaited):
    page = technician_client.get(reverse("arrivals:newcomer", args=[unknown.pk])).content.decode()
    assert "Your role does not put owners" in page
    answer = newcomer(technician_client, unknown, owner_name="Quillfeather")
    assert answer.status_code == 422
    assert not Owner.objects.filter(name="Quillfeather").exists()
    assert take(technician_client, unknown, f"analyzer-{awaited.analyzer_id}", serial="O5")["Location"]


def test_wrong_methods_strangers_and_owners_are_refused(counter_client, owner_client, client_of, unknown):
    address = reverse("arrivals:take", args=[unknown.pk])
    assert counter_client.get(address).status_code == 405
    assert owner_client.post(address).status_code == 403
    assert client_of("stranger").post(address).status_code == 302
