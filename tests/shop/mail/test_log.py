"""The log of letters: narrowed by its address, a letter as it went, again, come back."""

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.mail.presenters.demo_links import demo_links
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Letter


@pytest.fixture
def letter(bench, job):
    return write_letter("ready", job=job, now=timezone.now())


def page_of(client, query=""):
    answer = client.get(reverse("mail:log") + query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_log_shows_letters_with_state_and_job(counter_client, letter, job):
    page = page_of(counter_client)
    assert letter.subject in page
    assert "ada@tidewater.example" in page
    assert "waits to be sent" in page
    assert job.number in page


def test_an_empty_log_says_when_the_first_comes(counter_client, bench):
    assert "The first one goes out" in page_of(counter_client)


@pytest.mark.parametrize(
    ("query", "seen"),
    [
        ("?state=waiting", True),
        ("?state=bounced", False),
        ("?state=nonsense", True),
        ("?kind=ready", True),
        ("?kind=quote", False),
        ("?q=ADA%40tide", True),
        ("?q=J-2026-00042", True),
        ("?q=Tidewater", True),
        ("?q=nobody", False),
        ("?q=%00", True),
        ("?before=1", False),
        ("?before=x", True),
        ("?before=99999999999999999999", True),
    ],
)
def test_the_address_narrows_the_log(counter_client, letter, query, seen):
    assert (f'href="{reverse("mail:letter", args=[letter.pk])}"' in page_of(counter_client, query)) == seen


def test_a_long_log_goes_on_page_by_page(counter_client, letter):
    Letter.objects.bulk_create(
        Letter(kind="ready", to="a@b.example", subject=f"no. {count}", text="x", made_at=timezone.now())
        for count in range(60)
    )
    first = page_of(counter_client)
    further = first.split('href="?before=')[1].split('"')[0]
    second = page_of(counter_client, f"?before={further}")
    assert "no. 59<" in first
    assert "no. 59<" not in second
    assert letter.subject in second


def test_a_letter_is_shown_with_its_link_sealed(counter_client, letter):
    page = counter_client.get(reverse("mail:letter", args=[letter.pk]))
    text = page.content.decode()
    assert page.status_code == 200
    assert "~sealed" in text
    assert 'sandbox="allow-popups"' in text
    assert "The link is sealed here" in text


def test_only_the_demo_opens_a_letters_link(counter_client, client, letter, settings):
    assert "Only in this demo" not in counter_client.get(reverse("mail:letter", args=[letter.pk])).content.decode()
    settings.DEMO, settings.DEMO_PASSWORD = True, ""
    page = counter_client.get(reverse("mail:letter", args=[letter.pk])).content.decode()
    assert "Only in this demo" in page
    (link,) = demo_links(letter.text)
    assert link in page
    assert "~sealed" not in link
    assert client.get(link).status_code == 200


def test_the_html_of_a_letter_is_locked_in_by_its_own_policy(counter_client, letter):
    page = counter_client.get(reverse("mail:letter-html", args=[letter.pk]))
    policy = page["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "style-src 'sha256-" in policy
    assert "sandbox" in policy
    assert "script" not in policy
    assert "unsafe" not in policy
    assert "X-Frame-Options" not in page
    assert "~sealed" in page.content.decode()


def test_a_letter_is_sent_again_to_another_address(counter_client, letter, people):
    Letter.objects.filter(pk=letter.pk).update(state="bounced")
    answer = counter_client.post(reverse("mail:again", args=[letter.pk]), {"to": "new@tidewater.example"})
    made = Letter.objects.order_by("-id").first()
    assert answer["Location"] == reverse("mail:letter", args=[made.pk])
    assert (made.to, made.text, made.state, made.made_by) == (
        "new@tidewater.example",
        letter.text,
        "waiting",
        people["counter"],
    )
    assert made.message_id != letter.message_id


@pytest.mark.parametrize("address", ["", "nobody", "a@b.example\nBcc: c@d.example", "x" * 300])
def test_a_wrong_address_is_refused_and_stays_in_the_field(counter_client, letter, address):
    Letter.objects.filter(pk=letter.pk).update(state="failed")
    page = counter_client.post(reverse("mail:again", args=[letter.pk]), {"to": address})
    assert page.status_code == 422
    assert Letter.objects.count() == 1


def test_a_letter_that_waits_is_not_sent_again(counter_client, letter):
    page = counter_client.post(reverse("mail:again", args=[letter.pk]), {"to": letter.to})
    assert page.status_code == 422
    assert "still waits" in page.content.decode()


def test_a_letter_is_marked_as_come_back_once(counter_client, letter, job, people):
    Letter.objects.filter(pk=letter.pk).update(state="sent")
    for _ in range(2):
        answer = counter_client.post(reverse("mail:came-back", args=[letter.pk]), {"why": "no such mailbox"})
        assert answer.status_code == 302
    letter.refresh_from_db()
    assert (letter.state, letter.trouble) == ("bounced", "no such mailbox")
    (moment,) = job.moments.filter(what="letter came back")
    assert moment.by == people["counter"]
    assert "did not arrive" in counter_client.get(reverse("mail:letter", args=[letter.pk])).content.decode()


def test_what_never_went_out_cannot_have_come_back(counter_client, letter):
    page = counter_client.post(reverse("mail:came-back", args=[letter.pk]), {"why": "x"})
    assert page.status_code == 422
    letter.refresh_from_db()
    assert letter.state == "waiting"


@pytest.mark.parametrize("name", ["again", "came-back"])
def test_the_acts_on_a_letter_want_post_and_somebody_of_the_shop(client, owner_client, counter_client, letter, name):
    address = reverse(f"mail:{name}", args=[letter.pk])
    assert counter_client.get(address).status_code == 405
    assert owner_client.post(address).status_code == 403
    assert client.post(address).status_code == 302
    assert Letter.objects.count() == 1


def test_without_a_public_address_the_log_says_that_links_are_missing(manager_client, shop):
    assert "no public address yet" in page_of(manager_client)
