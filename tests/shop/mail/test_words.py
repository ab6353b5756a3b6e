"""The words of e-mails: changed with a preview, refused with a wrong placeholder, two at once lose nothing."""

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.mailing.kinds import kind_named, kinds
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import LetterTemplate

OWN = {"subject": "Done: {analyzer}", "text": "Hello {person},\n\nit is done.\n\nSee it: {link}\n", "seen_version": "0"}
ADDRESS = reverse("mail:template", args=["ready"])


def test_every_kind_is_listed_with_whose_words_are_in_force(manager_client, bench):
    LetterTemplate.objects.create(kind="ready", subject="x", text="y")
    page = manager_client.get(reverse("mail:templates")).content.decode()
    for kind in kinds().values():
        assert kind.title in page
    assert page.count("the shop&#x27;s own</b>") + page.count("the shop's own</b>") == 1


def test_own_words_are_saved_and_go_out(manager_client, bench, job):
    assert manager_client.post(ADDRESS, OWN)["Location"] == ADDRESS
    letter = write_letter("ready", job=job, now=timezone.now())
    assert letter.subject == "Done: Orrin 5, serial O5-20417"
    assert letter.text.startswith("Hello Ada Quay (invented),\n\nit is done.\n\nSee it: https://bench.example/answer/")


def test_a_second_press_changes_nothing(manager_client, bench):
    manager_client.post(ADDRESS, OWN)
    assert manager_client.post(ADDRESS, {**OWN, "seen_version": "1"}).status_code == 302
    assert LetterTemplate.objects.get(kind="ready").version == 1


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"text": "Hello {persn}"}, "{persn} is not known in this e-mail"),
        ({"text": "Hello {Person}"}, "is no placeholder"),
        ({"text": "Hello {person"}, "is no placeholder"),
        ({"text": "It costs {total}"}, "{total} is not known in this e-mail"),
        ({"subject": "{tracking}"}, "{tracking} is not known in this e-mail"),
        ({"subject": "Done\nBcc: all@owners.example"}, "A subject is one line"),
        ({"subject": ""}, "This field is required."),
        ({"subject": "x" * 201}, "at most 200 characters"),
        ({"text": "x" * 10_001}, "at most 10000 characters"),
        ({"text": "  \n "}, "needs some words"),
    ],
)
def test_words_that_are_wrong_are_refused_when_they_are_saved(manager_client, bench, wrong, told):
    page = manager_client.post(ADDRESS, OWN | wrong)
    assert page.status_code == 422
    assert told in page.content.decode()
    assert not LetterTemplate.objects.exists()


def test_two_who_change_the_same_words_see_each_other(manager_client, bench, people):
    first = LetterTemplate(kind="ready", subject="Theirs", text="theirs\n")
    first._history_user = people["signer"]
    first.save()
    page = manager_client.post(ADDRESS, OWN)
    assert page.status_code == 422
    assert "changed this while you had it open" in page.content.decode()
    assert "it is done." in page.content.decode()
    assert LetterTemplate.objects.get(kind="ready").subject == "Theirs"
    again = manager_client.post(ADDRESS, {**OWN, "seen_version": "1"})
    assert again.status_code == 302
    assert LetterTemplate.objects.get(kind="ready").subject == OWN["subject"]


def test_who_changes_words_that_were_taken_back_meanwhile_is_told(manager_client, bench):
    page = manager_client.post(ADDRESS, {**OWN, "seen_version": "3"})
    assert page.status_code == 422
    assert "went back to the shipped words" in page.content.decode()
    assert 'name="seen_version" value="0"' in page.content.decode()


def test_back_to_the_shipped_words_keeps_the_history(manager_client, bench):
    manager_client.post(ADDRESS, OWN)
    for _ in range(2):
        assert manager_client.post(reverse("mail:shipped", args=["ready"])).status_code == 302
    assert not LetterTemplate.objects.exists()
    assert LetterTemplate.history.filter(kind="ready", history_type="-").count() == 1
    assert kind_named("ready").subject in manager_client.get(ADDRESS).content.decode()


def test_the_preview_shows_what_is_typed_and_what_is_wrong(manager_client, bench):
    address = reverse("mail:preview", args=["ready"])
    typed = {"subject": "Done: {analyzer}", "text": "It is <b>done</b>, {owner}. {oops}"}
    page = manager_client.post(address, typed)
    text = page.content.decode()
    assert page.status_code == 200
    assert "Done: Orrin 5, serial O5-20417" in text
    assert "It is &lt;b&gt;done&lt;/b&gt;, Tidewater Heating (invented)." in text
    assert "{oops} is not known" in text
    assert "sandbox" in page["Content-Security-Policy"]
    assert not LetterTemplate.objects.exists()


def test_the_preview_of_every_kind_leaves_no_brace(manager_client, bench):
    for kind in kinds():
        text = manager_client.get(reverse("mail:preview", args=[kind])).content.decode()
        assert "{" not in text.split("</style>")[1], kind
        assert "Harrow Lane Test Bench" in text


def test_a_kind_that_there_is_not_is_not_found(manager_client, bench):
    for name in ("template", "preview"):
        assert manager_client.get(reverse(f"mail:{name}", args=["nothing"])).status_code == 404
    assert manager_client.post(reverse("mail:shipped", args=["nothing"])).status_code == 404


@pytest.mark.parametrize("role", ["counter", "technician", "signer", "owner"])
def test_only_the_manager_changes_words(client_of, bench, role):
    assert client_of(role).post(ADDRESS, OWN).status_code == 403
    assert not LetterTemplate.objects.exists()


def test_going_back_wants_post(manager_client, bench):
    assert manager_client.get(reverse("mail:shipped", args=["ready"])).status_code == 405
