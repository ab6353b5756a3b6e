"""Printing a sticker or tag, and printing it again."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import PaperMoment


def address(paper, name="sticker.pdf"):
    return reverse("papers:reprint", args=(paper.number, name))


@pytest.fixture
def paper(paper_of):
    return paper_of("healthy")


def kept(paper):
    return list(PaperMoment.objects.filter(paper=paper).values_list("what", "why", "by__username"))


def test_the_first_print_needs_no_reason_and_is_kept(counter_client, paper):
    answer = counter_client.post(address(paper), follow=True)
    assert answer.content.startswith(b"%PDF")
    assert kept(paper) == [("printed sticker.pdf", "", "counter")]


def test_again_needs_a_reason_that_is_kept_and_shown(counter_client, technician_client, paper):
    counter_client.post(address(paper))
    refused = technician_client.post(address(paper), {"why": "  "})
    assert refused.status_code == 422
    assert "Say why it is printed again" in refused.content.decode()
    assert len(kept(paper)) == 1
    assert technician_client.post(address(paper), {"why": "the first one tore"}).status_code == 302
    assert kept(paper)[-1] == ("printed again sticker.pdf", "the first one tore", "technician")
    shown = counter_client.get(reverse("papers:paper", args=(paper.number,))).content.decode()
    assert "printed again sticker.pdf (the first one tore), R. Vale" in shown


def test_the_other_form_of_the_same_sticker_counts_as_again(counter_client, paper):
    counter_client.post(address(paper, "sticker.pdf"))
    assert counter_client.post(address(paper, "sticker.zpl")).status_code == 422
    assert counter_client.post(address(paper, "sticker.zpl"), {"why": "other printer"}).status_code == 302


def test_a_second_press_is_one_print(counter_client, paper):
    counter_client.post(address(paper))
    counter_client.post(address(paper))
    assert len(kept(paper)) == 1


def test_a_reason_that_is_too_long_is_kept_in_the_field(counter_client, paper):
    counter_client.post(address(paper))
    answer = counter_client.post(address(paper), {"why": "x" * 201})
    assert answer.status_code == 422
    assert "x" * 201 in answer.content.decode()


def test_a_tag_is_counted_on_its_own(counter_client, paper_of):
    paper = paper_of("co-cell-low")
    assert counter_client.post(address(paper, "tag.pdf")).status_code == 302
    assert kept(paper) == [("printed tag.pdf", "", "counter")]


def test_a_certificate_is_no_sticker(counter_client, paper):
    assert counter_client.post(address(paper, "certificate.pdf")).status_code == 422
    assert kept(paper) == []


def test_another_method_is_refused(counter_client, paper):
    assert counter_client.get(address(paper)).status_code == 405


@pytest.mark.parametrize(("role", "status"), [("stranger", 302), ("owner", 403)])
def test_who_may_not(client_of, paper, role, status):
    assert client_of(role).post(address(paper)).status_code == status
    assert kept(paper) == []
