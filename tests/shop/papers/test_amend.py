"""An amended paper takes the place of the old."""

import json

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Paper
from flueproof.shop.records.visits.events import add_step


def address(paper):
    return reverse("papers:amend", args=(paper.number,))


@pytest.fixture
def paper(paper_of):
    return paper_of("healthy")


WHY = "The note on the case was left out"


class TestTheActOfAmending:
    def test_it_works(self, signer_client, paper, signature):
        answer = signer_client.post(address(paper), signature(paper.visit, why=WHY, same="on"), follow=True)
        new = Paper.objects.get(amends=paper)
        assert (new.number, new.amended_why, new.kind) == ("FP-2026-00002", WHY, "certificate")
        assert "Take the old sticker off the analyzer and put the new one on." in answer.content.decode()
        cover = json.loads(bytes(new.files.get(name="issue.json").blob.content))
        assert (cover["amends"], cover["amended_why"]) == ("FP-2026-00001", WHY)

    def test_the_old_one_says_that_it_is_replaced_and_is_printed_no_more(self, signer_client, paper, signature):
        signer_client.post(address(paper), signature(paper.visit, why=WHY, same="on"))
        said = signer_client.get(reverse("papers:paper", args=(paper.number,))).content.decode()
        assert "No longer valid." in said
        assert "FP-2026-00002" in said
        refused = signer_client.post(reverse("papers:reprint", args=(paper.number, "sticker.pdf")))
        assert "took the place of FP-2026-00001" in refused.content.decode()

    def test_a_second_press_is_one_paper(self, signer_client, paper, signature):
        fields = signature(paper.visit, why=WHY, same="on")
        first = signer_client.post(address(paper), fields)
        second = signer_client.post(address(paper), fields)
        assert first["Location"] == second["Location"]
        assert Paper.objects.count() == 2

    def test_a_second_signer_is_sent_to_the_newer_one(self, client_of, paper, signature):
        fields = signature(paper.visit, why=WHY, same="on")
        client_of("signer").post(address(paper), fields)
        answer = client_of("manager").post(address(paper), {**fields, "why": "Another reason"})
        assert answer.status_code == 422
        assert "already amended" in answer.content.decode()
        assert Paper.objects.count() == 2

    @pytest.mark.parametrize("changed", [{"why": "  "}, {"password": "wrong"}, {"password": ""}])
    def test_without_reason_or_password_nothing_is_issued_and_the_reason_is_kept(
        self, signer_client, paper, signature, changed
    ):
        answer = signer_client.post(address(paper), signature(paper.visit, **{"why": WHY, **changed}))
        assert answer.status_code == 422
        assert ("why" in changed) or (WHY in answer.content.decode())
        assert Paper.objects.count() == 1

    def test_wrong_passwords_count_here_too(self, signer_client, paper, signature):
        wrong = signature(paper.visit, why=WHY, same="on", password="wrong")  # noqa: S106
        codes = [signer_client.post(address(paper), wrong).status_code for _ in range(5)]
        assert codes[-1] == 429

    def test_a_record_that_grew_is_refused_and_the_reason_is_kept(self, signer_client, paper, signature, people, now):
        fields = signature(paper.visit, why=WHY, same="on")
        add_step(paper.visit, {"kind": "note", "text": "case cracked"}, people["technician"], now)
        answer = signer_client.post(address(paper), fields)
        assert answer.status_code == 409
        assert WHY in answer.content.decode()
        assert Paper.objects.count() == 1

    def test_another_method_is_refused(self, signer_client, paper):
        assert signer_client.delete(address(paper)).status_code == 405

    @pytest.mark.parametrize(
        ("role", "status"), [("stranger", 302), ("counter", 403), ("technician", 403), ("owner", 403)]
    )
    def test_who_may_not(self, client_of, paper, signature, role, status):
        assert client_of(role).get(address(paper)).status_code == status
        assert client_of(role).post(address(paper), signature(paper.visit, why=WHY, same="on")).status_code == status
        assert Paper.objects.count() == 1


class TestWhatItShows:
    def test_what_is_different_before_anything_is_signed(self, signer_client, paper, people, now):
        add_step(paper.visit, {"kind": "note", "text": "Case cracked at the inlet."}, people["technician"], now)
        assert "Noted: Case cracked at the inlet." in signer_client.get(address(paper)).content.decode()

    def test_nothing_different_is_said_too(self, signer_client, paper):
        assert "Nothing in the record so far" in signer_client.get(address(paper)).content.decode()

    def test_a_serial_corrected_on_file_is_taken_over_from_here(self, signer_client, paper):
        paper.job.analyzer.serial = "O5-2O001"
        paper.job.analyzer.save()
        back = signer_client.post(reverse("papers:take-over", args=(paper.job.number,)), {"amend": "yes"})
        assert back["Location"] == address(paper)
        assert "serial: was O5-20001, is O5-2O001" in signer_client.get(address(paper)).content.decode()

    def test_the_pictures_carry_the_amendment(self, signer_client, client_of, paper):
        where = reverse("papers:amend-pictures", args=(paper.number,))
        said = signer_client.get(where).content.decode()
        assert "amend/pictures/page-1.png" in said
        one = said.split('<img src="')[1].split('"')[0]
        assert signer_client.get(one)["Content-Type"] == "image/png"
        assert client_of("technician").get(one).status_code == 403
        assert client_of("technician").get(where).status_code == 403

    def test_an_amended_paper_is_not_amended_twice(self, signer_client, paper, signature):
        signer_client.post(address(paper), signature(paper.visit, why=WHY, same="on"))
        said = signer_client.get(address(paper)).content.decode()
        assert "was already amended" in said
        assert "password" not in said


def test_a_paper_that_would_say_nothing_new_is_asked_about_first(signer_client, paper, signature):
    refused = signer_client.post(address(paper), signature(paper.visit, why=WHY))
    assert refused.status_code == 422
    assert "would say what the old one does" in refused.content.decode()
    assert not Paper.objects.filter(amends=paper).exists()
