"""A new job on one page: finding, choosing, adding; once; nothing typed is lost."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Analyzer, Job, Owner

HERE = "/jobs/new"
NEW = {
    "page": "p1",
    "owner_name": "Reed Burners (invented)",
    "contact": "Bo Reed (invented)",
    "phone": "555-0177",
    "make": "Orrin",
    "model": "Orrin 5",
    "serial": "O5-00017",
    "profile": "two-cell-residential",
    "service": "verify",
    "complaint": "no zero",
    "promised_on": "2026-12-09",
    "as_found": "on",
}


def test_a_caller_nobody_knows_gets_owner_analyzer_and_job(counter_client, shop):
    answer = counter_client.post(HERE, NEW)
    job = Job.objects.get()
    assert answer["Location"] == reverse("counter:job", args=[job.number])
    assert (job.owner.name, job.analyzer.serial, job.service) == ("Reed Burners (invented)", "O5-00017", "verify")
    assert job.owner.contacts.get().phone == "555-0177"
    assert str(job.promised_on) == "2026-12-09"


def test_a_second_press_opens_nothing_more(counter_client, shop):
    unread = {**NEW, "serial": ""}
    first = counter_client.post(HERE, unread)["Location"]
    assert counter_client.post(HERE, unread)["Location"] == first
    assert Job.objects.count() == Analyzer.objects.count() == 1


def test_an_analyzer_on_file_is_found_and_chosen_and_what_was_typed_stays(counter_client, shop, analyzer):
    found = counter_client.get(HERE, {"q": "417"}).content.decode()
    assert f'name="choose_analyzer" value="{analyzer.pk}"' in found
    page = counter_client.post(HERE, {"complaint": "reads high", "rush": "on", "choose_analyzer": analyzer.pk})
    shown = page.content.decode()
    assert page.status_code == 200
    assert "reads high" in shown
    assert 'name="rush" id="id_rush" checked' in shown
    assert 'name="as_found" id="id_as_found">' in shown
    assert counter_client.post(HERE, {"page": "p", "analyzer": analyzer.pk, "service": "verify"}).status_code == 302
    assert Job.objects.get().analyzer == analyzer


def test_choosing_a_firm_shows_its_analyzers_and_another_takes_it_back(counter_client, shop, owner, analyzer):
    shown = counter_client.post(HERE, {"choose_owner": owner.pk}).content.decode()
    assert f'name="choose_analyzer" value="{analyzer.pk}"' in shown
    assert 'name="owner_name"' not in shown
    assert 'name="owner_name"' in counter_client.post(HERE, {"owner": owner.pk, "another": "owner"}).content.decode()
    again = counter_client.post(HERE, {"owner": owner.pk, "analyzer": analyzer.pk, "another": "analyzer"})
    assert f'name="choose_analyzer" value="{analyzer.pk}"' in again.content.decode()
    assert 'name="make"' in again.content.decode()


def test_a_person_is_found_by_phone_and_leads_to_the_firm(counter_client, shop, owner):
    shown = counter_client.get(HERE, {"q": "555-0100"}).content.decode()
    assert f'name="choose_owner" value="{owner.pk}"' in shown


def test_while_typing_only_the_list_is_answered(counter_client, shop, owner):
    page = counter_client.get(HERE, {"q": "tide"}, headers={"HX-Request": "true"}).content.decode()
    assert "Tidewater Heating" in page
    assert "<html" not in page


def test_an_analyzer_with_an_open_job_leads_to_that_job(counter_client, shop, job):
    assert f"/jobs/{job.number}" in counter_client.get(HERE, {"q": "417"}).content.decode()
    answer = counter_client.post(HERE, {"page": "p", "analyzer": job.analyzer_id, "service": "verify"})
    assert answer.status_code == 422
    assert "open job already" in answer.content.decode()
    assert Job.objects.count() == 1


def test_a_serial_like_one_on_file_is_asked_back_and_then_believed(counter_client, shop, analyzer):
    alike = {**NEW, "serial": "05-2O417"}
    answer = counter_client.post(HERE, alike)
    assert answer.status_code == 422
    assert f'name="choose_analyzer" value="{analyzer.pk}"' in answer.content.decode()
    assert not Owner.objects.filter(name=NEW["owner_name"]).exists()
    assert counter_client.post(HERE, {**alike, "is_another": "on"}).status_code == 302


def test_bad_input_keeps_what_was_typed(counter_client, shop):
    answer = counter_client.post(HERE, {**NEW, "make": "", "promised_on": "soon"})
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="Bo Reed (invented)"' in shown
    assert "no zero" in shown
    assert not Owner.objects.filter(name=NEW["owner_name"]).exists()


@pytest.mark.parametrize(
    ("typed", "field"),
    [("555-0188", "phone"), ("O5-99", "serial"), ("Reed Burners", "owner_name"), ("00417", "serial")],
)
def test_what_was_looked_for_in_vain_stands_where_it_belongs(counter_client, shop, typed, field):
    form = counter_client.get(HERE, {"q": typed}).context["form"]
    assert form[field].value() == typed


def test_a_technician_opens_jobs_for_what_is_on_file_only(technician_client, shop, analyzer):
    answer = technician_client.post(HERE, NEW)
    assert answer.status_code == 422
    assert "Choose an analyzer that is on file" in answer.content.decode()
    assert not Owner.objects.filter(name=NEW["owner_name"]).exists()
    chosen = {"page": "p", "analyzer": analyzer.pk, "service": "verify"}
    assert technician_client.post(HERE, chosen).status_code == 302


def test_strangers_owners_and_other_methods_are_refused(client_of, counter_client, shop):
    assert "/sign-in" in client_of("stranger").post(HERE, NEW)["Location"]
    assert client_of("owner").post(HERE, NEW).status_code == 403
    assert counter_client.delete(HERE).status_code == 405
    assert not Job.objects.exists()


def test_a_key_that_is_none_chooses_nothing(counter_client, shop):
    for key in ("x", "9" * 30, "999999"):
        assert counter_client.get(HERE, {"owner": key, "analyzer": key}).status_code == 200
