"""Finishing, coming back, holding for the owner, the letter, the record, a scanned code."""

import json
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.bench.record.reader import read_record
from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quotes import approve, send_quote
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.visits.judged import judged


def post(client, name, job, **data):
    return client.post(reverse(f"bench:{name}", args=[job.number]), data)


@pytest.fixture
def outside(owner, visit, ready, gas, rest):
    owner.call_first = True
    owner.save()
    gas(400)
    rest()
    gas(400, feed="instrument")
    return visit


ACTS = ["finish", "back", "hold"]


@pytest.mark.parametrize("name", ACTS)
@pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 403)])
def test_who_may_not_work_at_the_bench_is_refused(client_of, outside, job, name, who, status):
    before = Job.objects.get(pk=job.pk).state
    assert post(client_of(who), name, job).status_code == status
    assert Job.objects.get(pk=job.pk).state == before


@pytest.mark.parametrize("name", ACTS)
def test_another_method_is_refused(technician_client, outside, job, name):
    assert technician_client.get(reverse(f"bench:{name}", args=[job.number])).status_code == 405


class TestFinish:
    def test_a_signer_goes_on_to_the_signature(self, signer_client, visit, job, ready, gas, rest):
        gas(500)
        rest()
        answer = post(signer_client, "finish", job)
        assert answer["Location"] == reverse("papers:sign", args=[job.number])
        assert Job.objects.get(pk=job.pk).state == "to-sign"

    def test_a_technician_goes_to_the_next_analyzer_and_twice_changes_nothing(
        self, technician_client, visit, job, ready, gas, rest
    ):
        gas(500)
        rest()
        for _ in range(2):
            assert post(technician_client, "finish", job)["Location"] == reverse("bench:start")
        assert job.moments.filter(state_after="to-sign").count() == 1

    def test_what_may_not_be_signed_says_why(self, technician_client, visit, job, ready):
        answer = technician_client.post(reverse("bench:finish", args=[job.number]), follow=True)
        assert "cannot be signed as it stands" in answer.content.decode()
        assert Job.objects.get(pk=job.pk).state == "bench"

    def test_it_comes_back_to_the_bench(self, technician_client, visit, job, ready, gas, rest):
        gas(500)
        rest()
        post(technician_client, "finish", job)
        post(technician_client, "back", job)
        assert Job.objects.get(pk=job.pk).state == "bench"


class TestCallFirst:
    def decision(self, client, job, **changes):
        said = timezone.localtime().strftime("%Y-%m-%dT%H:%M")
        data = {"decision": "go-on", "said_by": "Ada Quay", "said_at": said, "words": "Do it.", **changes}
        return client.post(reverse("bench:decision", args=[job.number]), data)

    def test_the_hold_leads_to_whom_to_call_and_what_to_say(self, technician_client, outside, job):
        answer = technician_client.post(reverse("bench:hold", args=[job.number]), follow=True)
        page = answer.content.decode()
        assert Job.objects.get(pk=job.pk).state == "held"
        assert "555-0100" in page
        assert "CO showed 400" in page
        assert "may have called dangerous places safe" in page

    def test_the_decision_is_recorded_and_the_work_may_begin(self, technician_client, outside, job):
        post(technician_client, "hold", job)
        for _ in range(2):
            self.decision(technician_client, job)
        job.refresh_from_db()
        assert job.state == "bench"
        assert job.moments.filter(what="owner-decision").count() == 1
        page = technician_client.get(reverse("bench:visit", args=[job.number])).content.decode()
        assert "Adjust: CO" in page
        assert "go-on: said by Ada Quay" in page

    def test_the_counter_may_record_it_too(self, counter_client, outside, job):
        assert self.decision(counter_client, job).status_code == 302

    def test_a_call_in_the_future_is_refused_and_what_was_typed_is_kept(self, technician_client, outside, job):
        answer = self.decision(technician_client, job, said_at="2999-01-01T10:00", words="Ring me in March.")
        assert answer.status_code == 422
        assert "lies in the future" in answer.content.decode()
        assert "Ring me in March." in answer.content.decode()

    @pytest.mark.parametrize("name", ["decision", "letter", "letter-pdf"])
    @pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403)])
    def test_strangers_and_owners_see_nothing(self, client_of, outside, job, name, who, status):
        assert client_of(who).get(reverse(f"bench:{name}", args=[job.number])).status_code == status

    @pytest.mark.parametrize("name", ["letter", "letter-pdf"])
    def test_a_letter_is_only_read(self, technician_client, outside, job, name):
        assert post(technician_client, name, job).status_code == 405

    def test_the_letter_says_what_was_found_and_asks_one_question(self, technician_client, outside, job):
        page = technician_client.get(reverse("bench:letter", args=[job.number])).content.decode()
        assert "found it outside its limits" in page
        assert "Please tell us one of the three" in page
        assert "O5-20417" in page

    def test_the_letter_is_a_pdf(self, technician_client, outside, job):
        answer = technician_client.get(reverse("bench:letter-pdf", args=[job.number]))
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")

    def test_without_a_measurement_there_is_no_letter(self, technician_client, visit, job):
        assert technician_client.get(reverse("bench:letter", args=[job.number])).status_code == 404
        assert technician_client.get(reverse("bench:decision", args=[job.number])).status_code == 200

    def test_a_hold_that_nobody_needs_says_so(self, technician_client, visit, job, ready, gas, rest):
        gas(500)
        rest()
        answer = technician_client.post(reverse("bench:hold", args=[job.number]), follow=True)
        assert "nothing here asks for a call" in answer.content.decode()


class TestApprovedQuote:
    @pytest.fixture
    def approved(self, outside, job, people):
        now, by = timezone.now(), people["counter"]
        made = write_quote(Job.objects.get(pk=job.pk), [Wanted("CO cell", Decimal(245))], "", by, now)
        return approve(send_quote(made, by, now), "Ada Quay <b>", "go on", timezone.now())

    def test_the_bench_shows_it_with_its_source_and_one_press_takes_it_over(self, technician_client, approved, job):
        page = technician_client.get(reverse("bench:visit", args=[job.number])).content.decode()
        assert "Ada Quay &lt;b&gt; answered" in page
        assert f"Quote {approved.number}, USD 245.00, approved by the link in the e-mail. go on" in page
        for _ in range(2):
            assert post(technician_client, "approved", job)["Location"] == reverse("bench:visit", args=[job.number])
        assert job.moments.filter(what="owner-decision").count() == 1
        page = technician_client.get(reverse("bench:visit", args=[job.number])).content.decode()
        assert "Take it over" not in page
        assert "go-on: said by Ada Quay &lt;b&gt;" in page

    def test_the_form_of_the_decision_begins_with_it(self, counter_client, approved, job):
        page = counter_client.get(reverse("bench:decision", args=[job.number])).content.decode()
        assert "The owner approved a quote" in page
        assert 'value="Ada Quay &lt;b&gt;"' in page
        assert 'value="go-on" required id="id_decision_0" checked' in page

    @pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403)])
    def test_strangers_and_owners_take_over_nothing(self, client_of, approved, job, who, status):
        assert post(client_of(who), "approved", job).status_code == status
        assert not job.moments.filter(what="owner-decision").exists()

    def test_it_is_no_get(self, technician_client, approved, job):
        assert technician_client.get(reverse("bench:approved", args=[job.number])).status_code == 405


class TestRecordPage:
    def test_the_rows_stand_there_and_the_chain_holds(self, technician_client, visit, job, ready):
        page = technician_client.get(reverse("bench:record", args=[job.number])).content.decode()
        assert "The chain holds:" in page
        assert "4 rows" in page
        assert visit.events.last().hash[:16] in page

    def test_a_broken_chain_is_named(self, technician_client, visit, job, ready, monkeypatch):
        from flueproof.shop.bench.views import record

        monkeypatch.setattr(record, "broken_links", lambda _: ["event 2 was changed after it was recorded"])
        page = technician_client.get(reverse("bench:record", args=[job.number])).content.decode()
        assert "event 2 was changed" in page

    def test_the_file_is_a_bench_record(self, technician_client, visit, job, ready, gas):
        gas(500)
        answer = technician_client.get(reverse("bench:record-json", args=[job.number]))
        record = read_record(answer.content)
        assert record.job == job.number
        assert json.loads(answer.content)["steps"] == judged(visit).tree["steps"]
        assert job.number in answer["Content-Disposition"]


class TestScanned:
    def ask(self, client, **query):
        return client.get(reverse("bench:scanned"), query)

    def test_a_cylinder_is_named(self, technician_client, visit, job):
        said = self.ask(technician_client, code="cyl-co-500", job=job.number, point="co-mid").json()
        assert (said["what"], said["code"], said["refused"]) == ("reference", "CYL-CO-500", False)

    def test_an_expired_one_is_refused_with_the_reason(self, technician_client, visit, job):
        said = self.ask(technician_client, code="CYL-OLD", job=job.number, point="co-mid").json()
        assert said["refused"]
        assert "CYL-OLD" in said["text"]

    def test_the_wrong_kind_is_refused(self, technician_client, visit, job):
        said = self.ask(technician_client, code="THERM-1", job=job.number, point="co-mid").json()
        assert said["refused"]
        assert "thermometer" in said["text"]

    def test_an_analyzer_leads_to_its_job(self, technician_client, visit, job):
        said = self.ask(technician_client, code="O5-20417", job=job.number).json()
        assert said["what"] == "job"
        assert job.number in said["address"]

    def test_nothing_is_said_to_be_nothing(self, technician_client, visit, job):
        assert self.ask(technician_client, code="???", job=job.number).json()["what"] == "nothing"

    @pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 403)])
    def test_who_may_not_work_at_the_bench_is_refused(self, client_of, visit, who, status):
        assert self.ask(client_of(who), code="CYL-CO-500").status_code == status

    def test_another_method_is_refused(self, technician_client, visit):
        assert technician_client.post(reverse("bench:scanned")).status_code == 405
