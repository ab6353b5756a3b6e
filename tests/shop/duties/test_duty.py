"""The page of a duty: facts, picture, words; and its papers."""

import pytest
from django.urls import reverse

from flueproof.impact.statements.wording import ONE_RULE


def test_the_page_shows_words_picture_and_acts(manager_client, low):
    page = manager_client.get(reverse("duties:duty", args=[low.pk])).content.decode()
    assert 'class="shown-true"' in page
    assert "a true 100 ppm was shown as" in page
    assert "What to say" in page
    assert ONE_RULE in page
    assert reverse("duties:letter", args=[low.pk]) in page
    assert reverse("counter:job", args=[low.visit.job.number]) in page


def test_one_outside_its_limits_asks_for_no_tag(manager_client, outside):
    page = manager_client.get(reverse("duties:duty", args=[outside.pk])).content.decode()
    assert reverse("duties:tag", args=[outside.pk]) not in page
    assert manager_client.get(reverse("duties:tag", args=[outside.pk])).status_code == 404


def test_the_tag_says_do_not_use(manager_client, low):
    page = manager_client.get(reverse("duties:tag", args=[low.pk])).content.decode()
    assert "DO NOT USE" in page
    assert low.analyzer.serial in page


def test_the_letter_is_a_paper(manager_client, low):
    answer = manager_client.get(reverse("duties:letter", args=[low.pk]))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_an_owner_who_wants_no_e_mail_gets_none(manager_client, low):
    low.owner.no_letters = True
    low.owner.save()
    assert "wants no e-mail" in manager_client.get(reverse("duties:duty", args=[low.pk])).content.decode()


@pytest.mark.parametrize("name", ["duty", "letter", "tag"])
def test_strangers_and_owners_see_nothing_of_it(client_of, low, name):
    address = reverse(f"duties:{name}", args=[low.pk])
    assert client_of("stranger").get(address).status_code == 302
    assert client_of("owner").get(address).status_code == 403
    assert client_of("manager").post(address).status_code == 405


def test_a_duty_that_is_not_there_is_said_so(manager_client, shop):
    assert manager_client.get(reverse("duties:duty", args=[99])).status_code == 404
