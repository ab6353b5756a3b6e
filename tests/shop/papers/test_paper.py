"""One issued paper, and whether it is still what was signed."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Blob, PaperFile, PaperMoment


@pytest.fixture
def paper(paper_of):
    return paper_of("healthy")


def shown(client, paper):
    return client.get(reverse("papers:paper", args=(paper.number,))).content.decode()


def test_its_files_stand_there_with_their_hashes(counter_client, paper):
    said = shown(counter_client, paper)
    for row in paper.files.all():
        assert row.name in said
        assert row.blob_id in said


def test_an_owner_sees_neither_prints_nor_amending(owner_client, paper):
    said = shown(owner_client, paper)
    assert "certificate.pdf" in said
    assert "sticker.pdf" not in said
    assert "What happened to it" not in said
    assert ">Amend<" not in said


def test_only_who_may_amend_sees_the_way_there(counter_client, signer_client, paper):
    assert ">Amend<" not in shown(counter_client, paper)
    assert ">Amend<" in shown(signer_client, paper)


def test_a_stranger_is_sent_to_sign_in(client_of, paper):
    assert client_of("stranger").get(reverse("papers:paper", args=(paper.number,))).status_code == 302


def test_another_method_is_refused(counter_client, paper):
    assert counter_client.post(reverse("papers:paper", args=(paper.number,))).status_code == 405


class TestVerify:
    def pressed(self, client, paper, **how):
        return client.post(reverse("papers:verify", args=(paper.number,)), **how)

    def test_a_kept_paper_agrees(self, counter_client, paper):
        said = self.pressed(counter_client, paper).content.decode()
        assert "Everything agrees." in said
        assert "agrees to 12 digits" in said
        assert "no</td>" not in said

    def test_with_scripts_only_the_part_of_the_page_comes(self, counter_client, paper):
        said = self.pressed(counter_client, paper, headers={"HX-Request": "true"}).content.decode()
        assert "Everything agrees." in said
        assert "<html" not in said

    def test_an_owner_may_verify_their_own(self, owner_client, paper):
        assert "Everything agrees." in self.pressed(owner_client, paper).content.decode()

    def test_pressing_twice_changes_nothing(self, counter_client, paper):
        self.pressed(counter_client, paper)
        self.pressed(counter_client, paper)
        assert not PaperMoment.objects.exists()

    def test_foreign_bytes_beside_the_paper_are_found_and_kept_as_a_moment(self, counter_client, paper, now):
        forged = Blob.objects.create(
            sha256="0" * 64, media_type="application/pdf", size=4, content=b"%PDF", added_at=now
        )
        PaperFile.objects.create(paper=paper, name="tag.pdf", blob=forged)
        said = self.pressed(counter_client, paper).content.decode()
        assert "Something does not agree" in said
        assert "bytes changed" in said
        assert PaperMoment.objects.get().what == "found not to agree"

    def test_a_stranger_is_sent_to_sign_in(self, client_of, paper):
        assert self.pressed(client_of("stranger"), paper).status_code == 302

    def test_another_method_is_refused(self, counter_client, paper):
        assert counter_client.get(reverse("papers:verify", args=(paper.number,))).status_code == 405
