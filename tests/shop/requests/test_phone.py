"""A request on the phone: owner looked up, known things filled in, confirmed and a job with one press."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Job, Letter, Owner, ServiceRequest

PAGE = "requests:phone"
SAID = {
    "page": "p1",
    "count": "1",
    "firm": "Tidewater Heating (invented)",
    "phone": "555-0100",
    "carrier": "they collect it",
    "u0-make": "Orrin",
    "u0-model": "Orrin 5",
    "u0-serial": "O5-20417",
    "u0-complaint": "O2 reads high",
    "u0-service": "call-first",
    "u0-limits_of": "profile",
    "u0-decision_rule": "risk-2",
    "u0-as_found": "on",
    "u0-due_months": "12",
}


@pytest.fixture
def said(owner, shop):
    return {**SAID, "owner": str(owner.pk)}


def test_one_press_keeps_it_confirmed_and_opens_the_job(counter_client, people, said, analyzer):
    answer = counter_client.post(reverse(PAGE), said)
    row = ServiceRequest.objects.get()
    assert answer["Location"] == reverse("requests:request", args=[row.code])
    assert (row.state, row.source, row.owner) == ("confirmed", "phone", analyzer.owner)
    job = Job.objects.get()
    assert (job.analyzer, job.service, job.complaint) == (analyzer, "call-first", "O2 reads high")
    assert job.may_set_clock is False
    assert row.history.first().history_user == people["counter"]
    assert Letter.objects.get().kind == "request-received"


def test_pressed_twice_it_is_one(counter_client, said, analyzer):
    counter_client.post(reverse(PAGE), said)
    counter_client.post(reverse(PAGE), said)
    assert (ServiceRequest.objects.count(), Job.objects.count()) == (1, 1)


def test_one_whose_analyzer_is_here_already_is_kept_and_says_so(counter_client, said, job):
    answer = counter_client.post(reverse(PAGE), said, follow=True)
    assert b"has an open job already" in answer.content
    assert (ServiceRequest.objects.count(), Job.objects.count()) == (1, 1)


def test_somebody_new_waits_for_the_box(counter_client, shop):
    said = {**SAID, "u0-serial": "NEW-100", "firm": "Newly Heating (invented)"}
    counter_client.post(reverse(PAGE), said)
    assert ServiceRequest.objects.get().state == "confirmed"
    assert (Job.objects.count(), Owner.objects.filter(name__startswith="Newly").count()) == (0, 0)


def test_several_analyzers_keep_what_was_typed(counter_client, said, analyzer):
    page = counter_client.post(reverse(PAGE), {**said, "more": "", "u0-complaint": "typed already"})
    assert page.status_code == 200
    assert [unit["complaint"].value() for unit, _, _ in page.context["units"]] == ["typed already", ""]
    both = {**said, "count": "2", **{f"u1-{key[3:]}": value for key, value in SAID.items() if key.startswith("u0-")}}
    counter_client.post(reverse(PAGE), {**both, "u1-serial": "O5-30000"})
    assert [one.serial for one in ServiceRequest.objects.get().analyzers.all()] == ["O5-20417", "O5-30000"]


WRONG = [{"phone": ""}, {"carrier": ""}, {"u0-model": ""}, {"u0-service": "repair"}, {"firm": ""}]


@pytest.mark.parametrize("wrong", WRONG)
def test_what_is_wrong_is_said_and_stays(counter_client, said, analyzer, wrong):
    answer = counter_client.post(reverse(PAGE), {**said, **wrong})
    assert answer.status_code == 422
    assert b"O2 reads high" in answer.content
    assert ServiceRequest.objects.count() == 0


def test_the_owner_is_looked_up_while_one_types(counter_client, owner, analyzer, shop):
    for typed in ("tidewater", "quay", "555-0100", "O5-20417"):
        answer = counter_client.get(reverse(PAGE), {"q": typed}, headers={"HX-Request": "true"})
        assert b"Tidewater Heating" in answer.content, typed
    assert b"Nobody on file" in counter_client.get(reverse(PAGE), {"q": "zzz"}, headers={"HX-Request": "true"}).content


def test_choosing_fills_in_what_is_known(counter_client, owner, analyzer, shop):
    page = counter_client.post(reverse(PAGE), {"choose": f"analyzer-{analyzer.pk}", "count": "1"})
    form, (unit, _, _) = page.context["form"], page.context["units"][0]
    assert (form["firm"].value(), form["phone"].value(), form["town"].value()) == (owner.name, "555-0100", "Port Alder")
    assert (unit["serial"].value(), unit["model"].value()) == ("O5-20417", "Orrin 5")
    again = counter_client.post(reverse(PAGE), {"choose": "nobody-", "owner": owner.pk, "firm": "Other", "count": "1"})
    assert again.context["owner"] is None
    assert again.context["form"]["firm"].value() == "Other"


def test_an_owner_that_was_merged_leads_to_the_one_that_stands(counter_client, owner, shop):
    old = Owner.objects.create(name="Tide Water Htg (invented)", merged_into=owner)
    page = counter_client.post(reverse(PAGE), {"choose": f"owner-{old.pk}", "count": "1"})
    assert page.context["owner"] == owner


@pytest.mark.parametrize("sent", [{"count": "x"}, {"count": "9999"}, {"choose": "owner-x"}, {"choose": "analyzer-"}])
def test_nonsense_is_taken_calmly(counter_client, shop, sent):
    assert counter_client.post(reverse(PAGE), sent).status_code in {200, 422}


def test_who_may(client_of, shop):
    assert client_of("technician").get(reverse(PAGE)).status_code == 200
    assert client_of("owner").get(reverse(PAGE)).status_code == 403
    assert client_of("stranger").post(reverse(PAGE), SAID)["Location"].startswith(reverse("frame:login"))
    assert ServiceRequest.objects.count() == 0
