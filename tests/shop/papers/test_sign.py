"""Read and sign."""

import re

import pytest
from django.urls import reverse

from flueproof.papers.errors import TypesettingError
from flueproof.shop.papers import preview
from flueproof.shop.records.issuing import making
from flueproof.shop.records.models import Numbering, Paper
from flueproof.shop.records.visits.events import add_step


def address(visit):
    return reverse("papers:sign", args=(visit.job.number,))


def page(client, visit):
    return client.get(address(visit)).content.decode()


class TestTheActOfSigning:
    def test_it_works(self, signer_client, visit_of, signature, people):
        visit = visit_of("healthy")
        answer = signer_client.post(address(visit), signature(visit))
        paper = Paper.objects.get()
        assert (answer.status_code, answer["Location"]) == (302, reverse("papers:paper", args=(paper.number,)))
        assert (paper.signer, paper.number) == (people["signer"], "FP-2026-00001")

    def test_another_method_is_refused(self, signer_client, visit_of):
        assert signer_client.put(address(visit_of("healthy"))).status_code == 405

    def test_a_stranger_is_sent_to_sign_in(self, client_of, visit_of, signature):
        visit = visit_of("healthy")
        answer = client_of("stranger").post(address(visit), signature(visit))
        assert answer.status_code == 302
        assert "/sign-in" in answer["Location"]
        assert not Paper.objects.exists()

    @pytest.mark.parametrize("role", ["counter", "technician", "owner"])
    def test_a_role_without_the_right_is_refused(self, client_of, visit_of, signature, role):
        visit = visit_of("healthy")
        assert client_of(role).get(address(visit)).status_code == 403
        assert client_of(role).post(address(visit), signature(visit)).status_code == 403
        assert not Paper.objects.exists()

    def test_a_second_press_issues_nothing_more_and_shows_the_first(self, signer_client, visit_of, signature):
        visit = visit_of("healthy")
        fields = signature(visit)
        first = signer_client.post(address(visit), fields)
        second = signer_client.post(address(visit), fields)
        assert first["Location"] == second["Location"]
        assert Paper.objects.count() == 1

    def test_the_second_of_two_signers_sees_the_first_ones_paper(self, client_of, visit_of, signature):
        visit = visit_of("healthy")
        fields = signature(visit)
        client_of("signer").post(address(visit), fields)
        answer = client_of("manager").post(address(visit), fields, follow=True)
        assert "was already signed by S. Alder" in answer.content.decode()
        assert Paper.objects.count() == 1
        assert Numbering.objects.get(prefix="FP").last == 1

    def test_only_chosen_obligations_are_brought_forward_and_the_choice_is_kept_on_a_wrong_password(
        self, signer_client, visit_of, signature
    ):
        visit = visit_of("healthy")
        yearly = visit.job.analyzer.obligations.create(what="yearly", agreed_by="A. Quay")
        cells = visit.job.analyzer.obligations.create(what="new cells", months=24, agreed_by="A. Quay")
        wrong = signer_client.post(address(visit), signature(visit, password="no", obligations=[yearly.pk]))  # noqa: S106
        assert wrong.status_code == 422
        boxes = re.findall(r'<input type="checkbox"[^>]*>', wrong.content.decode())
        assert ["checked" in box for box in boxes] == [True, False]
        signer_client.post(address(visit), signature(visit, obligations=[yearly.pk]))
        yearly.refresh_from_db()
        cells.refresh_from_db()
        assert (yearly.last_done is None, cells.last_done is None) == (False, True)


class TestThePassword:
    def test_a_wrong_one_signs_nothing_and_is_not_sent_back(self, signer_client, visit_of, signature):
        visit = visit_of("healthy")
        answer = signer_client.post(address(visit), signature(visit, password="Seven-grey-heron-5"))  # noqa: S106
        assert answer.status_code == 422
        said = answer.content.decode()
        assert "That is not your password. Nothing was signed." in said
        assert "Seven-grey-heron-5" not in said
        assert not Paper.objects.exists()

    def test_an_empty_one_signs_nothing(self, signer_client, visit_of, signature):
        visit = visit_of("healthy")
        answer = signer_client.post(address(visit), signature(visit, password=""))
        assert answer.status_code == 422
        assert "it is your signature" in answer.content.decode()

    def test_five_wrong_ones_lock_the_name_out_also_for_the_right_one(self, signer_client, visit_of, signature):
        visit = visit_of("healthy")
        codes = [
            signer_client.post(address(visit), signature(visit, password=f"wrong-{n}")).status_code for n in range(5)
        ]
        assert codes == [422, 422, 422, 422, 429]
        assert signer_client.post(address(visit), signature(visit)).status_code == 429
        assert not Paper.objects.exists()

    def test_a_right_one_forgets_the_wrong_ones_before(self, signer_client, visit_of, signature):
        one, two = visit_of("healthy"), visit_of("no-probe-came")
        for _ in range(4):
            signer_client.post(address(one), signature(one, password="wrong"))  # noqa: S106
        assert signer_client.post(address(one), signature(one)).status_code == 302
        assert signer_client.post(address(two), signature(two, password="wrong")).status_code == 422  # noqa: S106

    def test_somebody_elses_does_not_do(self, signer_client, visit_of, signature, people):
        people["manager"].set_password("Nine-brown-otters-7")
        people["manager"].save()
        visit = visit_of("healthy")
        answer = signer_client.post(address(visit), signature(visit, password="Nine-brown-otters-7"))  # noqa: S106
        assert answer.status_code == 422


class TestWhatTheSignerReads:
    def test_the_failure_as_found_stands_in_words_before_the_paper(self, signer_client, visit_of):
        said = page(signer_client, visit_of("co-cell-replaced"))
        assert "As found: outside limits." in said
        assert "CO hardly answered" in said
        assert said.index("As found: outside limits.") < said.index("As it will print")

    def test_what_was_not_tested_and_what_was_left_out_with_its_reason(self, signer_client, visit_of, people, now):
        visit = visit_of("no-probe-came")
        why = {"kind": "note", "text": "Not tested as found [draft]: manometer out for its yearly check"}
        add_step(visit, why, people["technician"], now)
        said = page(signer_client, visit)
        assert "Probe assembly and its gas path" in said
        assert "manometer out for its yearly check (R. Vale)" in said

    def test_a_note_that_stops_the_signing_offers_a_report_only(self, signer_client, visit_of):
        said = page(signer_client, visit_of("expired-cylinder"))
        assert "What stops a certificate" in said
        assert "Issue the bench report" in said
        assert "Sign the certificate" not in said

    def test_a_unit_that_reads_co_low_gets_the_tag_named(self, signer_client, visit_of):
        assert "a do-not-use tag to tie on" in page(signer_client, visit_of("verified-outside"))

    def test_the_due_line_stands_only_where_the_owner_agreed(self, signer_client, visit_of):
        agreed = page(signer_client, visit_of("healthy"))
        assert "5 October 2027: 12 months to the day, as the owner asked" in agreed
        silent = page(signer_client, visit_of("no-probe-came", due_agreed=False))
        assert "the owner did not agree to one" in silent

    def test_struck_steps_and_why(self, signer_client, visit_of):
        assert "Struck out" in page(signer_client, visit_of("struck-and-repeated"))

    def test_a_job_without_bench_work_says_so(self, signer_client, shop, job):
        said = signer_client.get(reverse("papers:sign", args=(job.number,))).content.decode()
        assert "The bench has not begun" in said

    def test_a_job_that_is_not_there(self, signer_client, shop):
        assert signer_client.get(reverse("papers:sign", args=("J-2026-09999",))).status_code == 404


class TestWhatChangedMeanwhile:
    def test_a_record_that_grew_is_refused_with_what_came(self, signer_client, visit_of, signature, people, now):
        visit = visit_of("healthy")
        fields = signature(visit)
        add_step(visit, {"kind": "note", "text": "case cracked"}, people["technician"], now)
        answer = signer_client.post(address(visit), fields)
        said = answer.content.decode()
        assert answer.status_code == 409
        assert "Nothing was signed" in said
        assert "Step s8 added: note, by R. Vale" in said
        assert not Paper.objects.exists()
        assert signer_client.post(address(visit), signature(visit)).status_code == 302

    def test_the_owners_new_word_is_taken_into_the_record(self, signer_client, visit_of, signature):
        visit = visit_of("healthy")
        visit.job.owner.due_agreed = False
        visit.job.owner.save()
        assert "Take the owner&#x27;s word into the record first." in page(signer_client, visit)
        assert signer_client.post(address(visit), signature(visit)).status_code == 422
        signer_client.post(reverse("papers:take-over", args=(visit.job.number,)))
        assert signer_client.post(address(visit), signature(visit)).status_code == 302
        assert Paper.objects.get().due_on is None

    def test_taking_over_twice_adds_one_head(self, signer_client, visit_of):
        visit = visit_of("healthy")
        visit.job.analyzer.serial = "O5-20O01"
        visit.job.analyzer.save()
        for _ in range(2):
            signer_client.post(reverse("papers:take-over", args=(visit.job.number,)))
        assert visit.events.filter(kind="head").count() == 2

    @pytest.mark.parametrize(("role", "status"), [("stranger", 302), ("technician", 403), ("owner", 403)])
    def test_taking_over_is_for_signers(self, client_of, visit_of, role, status):
        visit = visit_of("healthy")
        answer = client_of(role).post(reverse("papers:take-over", args=(visit.job.number,)))
        assert answer.status_code == status
        assert visit.events.filter(kind="head").count() == 1

    def test_taking_over_is_no_get(self, signer_client, visit_of):
        assert signer_client.get(reverse("papers:take-over", args=(visit_of("healthy").job.number,))).status_code == 405


def test_when_typesetting_fails_it_is_said_and_nothing_is_left_behind(signer_client, visit_of, signature, monkeypatch):
    def breaks(*_):
        raise TypesettingError("certificate.typ could not be set: out of paper")

    monkeypatch.setattr(making, "papers_for", breaks)
    visit = visit_of("healthy")
    answer = signer_client.post(address(visit), signature(visit))
    assert answer.status_code == 422
    assert "nothing was issued and no number was used" in answer.content.decode()
    assert not Paper.objects.exists()
    assert not Numbering.objects.filter(prefix="FP").exists()


class TestThePictures:
    def pictures(self, client, visit):
        said = client.get(reverse("papers:sign-pictures", args=(visit.job.number,)), headers={"HX-Request": "true"})
        return re.findall(r'<img src="([^"]+)"', said.content.decode())

    def test_every_page_and_the_sticker_are_pictures_in_requests_of_their_own(self, signer_client, visit_of):
        shown = self.pictures(signer_client, visit_of("healthy"))
        assert [one.split("/")[-1].split("?")[0] for one in shown] == ["page-1.png", "page-2.png", "sticker.png"]
        for one in shown:
            answer = signer_client.get(one)
            assert answer["Content-Type"] == "image/png"
            assert answer.content.startswith(b"\x89PNG")

    def test_they_are_set_once_for_one_state_of_the_record(self, signer_client, visit_of, monkeypatch):
        visit = visit_of("healthy")
        made = []
        real = preview.pictures_of
        monkeypatch.setattr(preview, "pictures_of", lambda *given: made.append(1) or real(*given))
        for one in self.pictures(signer_client, visit):
            signer_client.get(one)
        assert made == [1]

    def test_a_picture_of_an_older_record_is_not_shown_for_the_new_one(self, signer_client, visit_of, people, now):
        visit = visit_of("healthy")
        old = self.pictures(signer_client, visit)[0]
        add_step(visit, {"kind": "note", "text": "case cracked"}, people["technician"], now)
        assert signer_client.get(old).status_code == 404

    def test_without_scripts_they_stand_on_a_page_of_their_own(self, signer_client, visit_of):
        said = signer_client.get(reverse("papers:sign-pictures", args=(visit_of("healthy").job.number,)))
        assert "<h1>As it will print</h1>" in said.content.decode()

    @pytest.mark.parametrize(("role", "status"), [("stranger", 302), ("technician", 403), ("owner", 403)])
    def test_they_are_for_signers(self, client_of, signer_client, visit_of, role, status):
        visit = visit_of("healthy")
        one = self.pictures(signer_client, visit)[0]
        assert client_of(role).get(one).status_code == status
        assert client_of(role).get(reverse("papers:sign-pictures", args=(visit.job.number,))).status_code == status

    def test_typesetting_trouble_is_said(self, signer_client, visit_of, monkeypatch):
        def breaks(*_):
            raise TypesettingError("certificate.typ could not be set: out of paper")

        monkeypatch.setattr(preview, "pictures_of", breaks)
        said = signer_client.get(reverse("papers:sign-pictures", args=(visit_of("healthy").job.number,)))
        assert "out of paper" in said.content.decode()
