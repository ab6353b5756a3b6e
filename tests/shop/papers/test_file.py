"""The bytes of a paper."""

import hashlib

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.issuing.printing import note_print
from flueproof.shop.records.models import Owner, Person
from shop.conftest import signed_in


def address(paper, name):
    return reverse("papers:file", args=(paper.number, name))


@pytest.fixture
def paper(paper_of):
    return paper_of("healthy")


def test_the_kept_bytes_come_as_they_were_kept(counter_client, paper):
    answer = counter_client.get(address(paper, "certificate.pdf"))
    assert answer["Content-Type"] == "application/pdf"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"] == 'inline; filename="FP-2026-00001-certificate.pdf"'
    kept = paper.files.get(name="certificate.pdf").blob.sha256
    assert hashlib.sha256(answer.content).hexdigest() == kept


def test_saving_and_programs_files_come_as_attachments(counter_client, paper):
    saved = counter_client.get(address(paper, "certificate.pdf") + "?save")
    assert saved["Content-Disposition"].startswith("attachment;")
    record = counter_client.get(address(paper, "record.json"))
    assert record["Content-Disposition"].startswith("attachment;")


def test_a_file_that_is_not_there(counter_client, paper):
    assert counter_client.get(address(paper, "tag.pdf")).status_code == 404
    assert counter_client.get(reverse("papers:file", args=("FP-2026-09999", "certificate.pdf"))).status_code == 404


def test_another_method_is_refused(counter_client, paper):
    assert counter_client.post(address(paper, "certificate.pdf")).status_code == 405


def test_a_stranger_is_sent_to_sign_in(client_of, paper):
    assert client_of("stranger").get(address(paper, "certificate.pdf")).status_code == 302


class TestAnExternalOwner:
    def test_sees_their_own(self, owner_client, paper):
        assert owner_client.get(address(paper, "certificate.pdf")).status_code == 200
        assert owner_client.get(address(paper, "issue.json")).status_code == 200

    @pytest.mark.parametrize("name", ["sticker.pdf", "sticker.zpl", "record.json"])
    def test_gets_neither_stickers_nor_the_benchs_own_record(self, owner_client, paper, name):
        assert owner_client.get(address(paper, name)).status_code == 404

    def test_learns_nothing_of_somebody_elses_paper(self, paper):
        other = Owner.objects.create(name="Kestrel Plumbing (invented)")
        someone = Person.objects.create_user("kestrel", role="owner", owner=other)
        client = signed_in(someone)
        assert client.get(address(paper, "certificate.pdf")).status_code == 404
        assert client.get(reverse("papers:paper", args=(paper.number,))).status_code == 404
        assert client.post(reverse("papers:verify", args=(paper.number,))).status_code == 404

    def test_without_a_firm_sees_nothing(self, paper):
        client = signed_in(Person.objects.create_user("nobody", role="owner"))
        assert client.get(address(paper, "certificate.pdf")).status_code == 404

    def test_of_a_firm_that_another_was_merged_into_sees_those_too(self, paper):
        merged_into = Owner.objects.create(name="Tidewater and Sons (invented)")
        paper.job.owner.merged_into = merged_into
        paper.job.owner.save()
        client = signed_in(Person.objects.create_user("sons", role="owner", owner=merged_into))
        assert client.get(address(paper, "certificate.pdf")).status_code == 200


class TestStickersAreHandedOutOnlyWhenThePrintIsKept:
    def test_not_by_address_alone(self, counter_client, paper):
        answer = counter_client.get(address(paper, "sticker.pdf"))
        assert (answer.status_code, answer["Location"]) == (302, reverse("papers:paper", args=(paper.number,)))

    def test_while_a_print_is_open(self, counter_client, people, paper):
        note_print(paper, "sticker.pdf", "", people["counter"], timezone.now())
        assert counter_client.get(address(paper, "sticker.pdf")).content.startswith(b"%PDF")
        assert counter_client.get(address(paper, "sticker.zpl")).status_code == 302
