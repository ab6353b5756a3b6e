"""The counter's side of requests: seen, confirmed by hand, withdrawn with a reason, become jobs, never doubled."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse

from flueproof.shop.records.models import Job, Letter, Owner, ServiceRequest

STAFF = ["counter", "technician", "signer", "manager"]
ACTS = ["confirm-by-hand", "ask-again", "withdraw", "to-jobs", "choose-owner"]


def page(client, row):
    return client.get(reverse("requests:request", args=[row.code])).content.decode()


def act(client, name, row, **fields):
    return client.post(reverse(f"requests:{name}", args=[row.code]), fields, follow=True)


def test_the_list_shows_what_waits_and_finds_by_code_slip_and_words(sent, counter_client):
    row = sent.row
    for asked in ({}, {"q": row.code}, {"q": row.analyzers.get().slip.lower()}, {"q": "quayside"}, {"q": "O5-204"}):
        assert row.code in counter_client.get(reverse("requests:list"), asked).content.decode()
    for asked in ({"q": "somebody else"}, {"view": "withdrawn"}):
        assert f"/requests/{row.code}/" not in counter_client.get(reverse("requests:list"), asked).content.decode()
    assert counter_client.get(reverse("requests:list"), {"view": "nonsense"}).status_code == 200


def test_an_unconfirmed_one_is_seen_when_its_time_is_over(sent, counter_client):
    row = sent.row
    row.sent_at -= dt.timedelta(days=9)
    row.save()
    assert "Not confirmed for 9 days. Ring them." in counter_client.get(reverse("requests:list")).content.decode()
    assert "Ring them" in page(counter_client, row)
    assert sent.row.state == "unconfirmed"


def test_the_counter_confirms_by_hand_once(sent, counter_client, people):
    act(counter_client, "confirm-by-hand", sent.row)
    act(counter_client, "confirm-by-hand", sent.row)
    row = sent.row
    assert row.state == "confirmed"
    assert row.history.first().history_user == people["counter"]
    assert Letter.objects.filter(kind="request-received").count() == 1


def test_it_becomes_a_job_and_pressed_twice_one(sent, counter_client, analyzer):
    act(counter_client, "confirm-by-hand", sent.row)
    assert "Orrin 5" in page(counter_client, sent.row)
    answer = act(counter_client, "to-jobs", sent.row)
    job = Job.objects.get()
    assert f"job {job.number} is open" in answer.content.decode()
    act(counter_client, "to-jobs", sent.row)
    assert Job.objects.count() == 1
    assert job.complaint == "CO stays at 3 ppm"
    assert f"/jobs/{job.number}" in page(counter_client, sent.row)


def test_nothing_opens_before_it_is_confirmed(sent, counter_client, analyzer):
    answer = act(counter_client, "to-jobs", sent.row)
    assert b"Confirm it first" in answer.content
    assert Job.objects.count() == 0


def test_an_analyzer_that_is_here_already_is_said_and_can_be_joined(sent, counter_client, job):
    act(counter_client, "confirm-by-hand", sent.row)
    text = page(counter_client, sent.row)
    assert "has an open job already" in text
    assert job.number in text
    answer = act(counter_client, "to-jobs", sent.row)
    assert b"has an open job already" in answer.content
    one = sent.row.analyzers.get()
    address = reverse("requests:choose-analyzer", args=[sent.row.code, one.pk])
    counter_client.post(address, {"analyzer": job.analyzer_id, "join": ""})
    counter_client.post(address, {"analyzer": job.analyzer_id, "join": ""})
    one.refresh_from_db()
    assert (one.job, Job.objects.count()) == (job, 1)
    assert job.moments.filter(what="requested").count() == 1


def test_a_serial_that_only_looks_alike_is_chosen_by_a_person(sent, counter_client, analyzer):
    one = sent.row.analyzers.get()
    one.serial = "05-2O417"
    one.save()
    act(counter_client, "confirm-by-hand", sent.row)
    assert "It reads like" in page(counter_client, sent.row)
    act(counter_client, "to-jobs", sent.row)
    assert Job.objects.count() == 0
    counter_client.post(reverse("requests:choose-analyzer", args=[sent.row.code, one.pk]), {"analyzer": analyzer.pk})
    act(counter_client, "to-jobs", sent.row)
    assert Job.objects.get().analyzer == analyzer


@pytest.mark.parametrize("given", ["", "0", "x", "999999"])
def test_an_analyzer_that_there_is_not(sent, counter_client, given):
    address = reverse("requests:choose-analyzer", args=[sent.row.code, sent.row.analyzers.get().pk])
    assert counter_client.post(address, {"analyzer": given}).status_code == 404


def test_an_owner_merged_while_the_request_runs(sent, counter_client, owner, analyzer):
    row = sent.row
    old = Owner.objects.create(name="Tide Water Htg (invented)")
    row.owner = old
    row.save()
    act(counter_client, "confirm-by-hand", row)
    old.merged_into = owner
    old.save()
    assert "Tidewater Heating (invented)" in page(counter_client, row)
    act(counter_client, "to-jobs", row, owner=old.pk)
    assert Job.objects.get().owner == owner


def test_withdrawn_with_a_reason_and_never_without(sent, counter_client):
    act(counter_client, "withdraw", sent.row, why="  ")
    assert sent.row.state == "unconfirmed"
    act(counter_client, "withdraw", sent.row, why="sent twice")
    act(counter_client, "withdraw", sent.row, why="sent twice")
    row = sent.row
    assert row.state == "withdrawn"
    assert row.history.first().history_change_reason == "sent twice"
    assert sent.get("sent").status_code == 410


def test_the_mail_to_confirm_is_sent_again(sent, counter_client):
    Letter.objects.update(made_at=dt.datetime(2020, 1, 1, tzinfo=dt.UTC))
    act(counter_client, "ask-again", sent.row)
    assert Letter.objects.filter(kind="confirm-request").count() == 2
    act(counter_client, "confirm-by-hand", sent.row)
    assert b"nothing to confirm" in act(counter_client, "ask-again", sent.row).content


def test_a_scanned_slip_leads_to_its_request_or_its_job(sent, counter_client, job):
    one = sent.row.analyzers.get()
    address = reverse("requests:scanned", args=[one.slip])
    assert counter_client.get(address)["Location"] == reverse("requests:request", args=[sent.row.code])
    one.job = job
    one.save()
    assert counter_client.get(address)["Location"] == reverse("counter:job", args=[job.number])
    assert counter_client.get(reverse("requests:scanned", args=["nonsense"])).status_code == 404


def test_the_slip_of_a_request_by_phone(sent, counter_client, readback):
    answer = counter_client.get(reverse("requests:staff-slip", args=[sent.row.code]))
    assert readback.codes_of(answer.content) == [sent.row.analyzers.get().slip]


@pytest.mark.parametrize("role", STAFF)
def test_staff_see_requests_and_owners_do_not(sent, client_of, role):
    assert sent.row.code in page(client_of(role), sent.row)
    assert client_of("owner").get(reverse("requests:request", args=[sent.row.code])).status_code == 403


@pytest.mark.parametrize("name", ACTS)
def test_acts_are_posts_of_people_with_the_right(sent, client_of, name):
    address = reverse(f"requests:{name}", args=[sent.row.code])
    assert client_of("counter").get(address).status_code == 405
    assert client_of("owner").post(address).status_code == 403
    assert client_of("stranger").post(address)["Location"].startswith(reverse("frame:login"))
    assert ServiceRequest.objects.get().state == "unconfirmed"


def test_what_a_stranger_wrote_is_text_on_the_counter_s_pages(stranger, counter_client):
    bad = "<script>alert(1)</script>"
    stranger.begin(firm=bad, contact=bad)
    row = stranger.row
    row.state, row.sent_at = "unconfirmed", row.made_at
    row.save()
    for text in (page(counter_client, row), counter_client.get(reverse("requests:list")).content.decode()):
        assert bad not in text
        assert "&lt;script&gt;" in text


def test_a_request_that_there_is_not(counter_client, shop):
    assert counter_client.get(reverse("requests:request", args=["R-NONE"])).status_code == 404
    assert Client().get(reverse("requests:list"))["Location"].startswith(reverse("frame:login"))


def test_which_owner_it_is_from_is_chosen_by_a_person(sent, counter_client, people):
    firm = Owner.objects.create(name="Quayside Air (invented)")
    assert "It is Quayside Air (invented)" in page(counter_client, sent.row)
    assert act(counter_client, "choose-owner", sent.row, owner=firm.pk).status_code == 200
    assert sent.row.owner == firm
    assert sent.row.history.first().history_user == people["counter"]
    assert act(counter_client, "choose-owner", sent.row, owner="x").status_code == 404


def test_the_owner_of_the_analyzer_on_file_becomes_the_owner_of_the_request(sent, counter_client, analyzer):
    act(counter_client, "confirm-by-hand", sent.row)
    act(counter_client, "to-jobs", sent.row)
    assert sent.row.owner == analyzer.owner


def test_what_is_not_on_file_is_put_there_when_the_counter_says_so(sent, counter_client, owner):
    act(counter_client, "confirm-by-hand", sent.row)
    act(counter_client, "choose-owner", sent.row, owner=owner.pk)
    assert "Put it on file for" in page(counter_client, sent.row)
    act(counter_client, "to-jobs", sent.row, owner=owner.pk, add=[sent.row.analyzers.get().pk])
    job = Job.objects.get()
    assert (job.analyzer.serial, job.owner) == ("O5-20417", owner)


def test_two_requests_for_one_serial_are_seen(sent, counter_client):
    first = sent.row
    sent.begin(page="p2")
    sent.save("analyzers", unit={"model": "Orrin 5", "serial": "o5-20417"})
    second = sent.row
    second.state = "confirmed"
    second.save()
    assert first.code in page(counter_client, second)
    assert "Withdraw one of the two" in page(counter_client, first)
