"""Sent, confirmed by the link in the e-mail, slip printed; each press counts once, late and used links say so."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.urls import reverse

from flueproof.shop.records.intake.requests import withdraw_request
from flueproof.shop.records.mailing.seals import unseal
from flueproof.shop.records.models import AnswerLink, Job, Letter, Person

LONG_AGO = dt.datetime(2020, 1, 1, tzinfo=dt.UTC)


def link_in(letter):
    """Return the path of the link in a letter as its reader gets it."""
    return re.search(r"https?://[^/\s]+(/service-request/\S+)", unseal(letter.text)).group(1)


def test_sending_writes_one_letter_with_one_link(sent):
    assert sent.row.state == "unconfirmed"
    sent.post("send")
    (letter,) = Letter.objects.all()
    assert (letter.kind, letter.to) == ("confirm-request", "ben@quayside.example")
    assert AnswerLink.objects.filter(purpose="confirm").count() == 1
    assert b"One step is left" in sent.get("sent").content
    assert sent.client.get(reverse("requests:slip", args=[sent.secret])).status_code == 410


def test_what_is_not_complete_is_not_sent(stranger):
    stranger.begin()
    answer = stranger.post("send")
    assert answer["Location"] == reverse("requests:step", args=[stranger.secret, "check"])
    assert stranger.row.state == "draft"
    assert b"Model of the analyzer" in stranger.at("check").content
    assert Letter.objects.count() == 0


def test_opening_the_link_confirms_nothing_pressing_does(sent):
    reader, address = Client(), link_in(Letter.objects.get())
    page = reader.get(address)
    assert page.status_code == 200
    assert b"Is this request yours?" in page.content
    assert sent.row.state == "unconfirmed"
    assert reader.post(address)["Location"] == address
    row = sent.row
    assert row.state == "confirmed"
    assert [letter.kind for letter in Letter.objects.order_by("id")] == ["confirm-request", "request-received"]
    assert b"We expect your box" in reader.get(address).content


def test_the_link_used_twice_says_so_and_does_nothing(sent):
    address = link_in(Letter.objects.get())
    Client().post(address)
    at = sent.row.confirmed_at
    again = Client()
    again.post(address)
    assert b"This link was used before" in again.get(address).content
    assert sent.row.confirmed_at == at
    assert Letter.objects.filter(kind="request-received").count() == 1


def test_the_link_used_late_keeps_the_request_and_offers_a_fresh_one(sent):
    address = link_in(Letter.objects.get())
    AnswerLink.objects.filter(purpose="confirm").update(expires_at=LONG_AGO)
    page = Client().get(address)
    assert page.status_code == 410
    assert b"too old" in page.content
    Client().post(address)
    assert sent.row.state == "unconfirmed"
    secret = address.strip("/").rpartition("/")[2]
    assert Client().post(reverse("requests:mail-again", args=[secret])).status_code == 200
    fresh = link_in(Letter.objects.order_by("id").last())
    assert fresh != address
    Client().post(fresh)
    assert sent.row.state == "confirmed"


def test_of_two_letters_the_newer_counts(sent):
    first = link_in(Letter.objects.get())
    sent.post("mail-again")
    page = Client().get(first)
    assert page.status_code == 410
    assert b"A newer e-mail" in page.content
    Client().post(first)
    assert sent.row.state == "unconfirmed"
    Client().post(link_in(Letter.objects.order_by("id").last()))
    assert sent.row.state == "confirmed"


def test_an_e_mail_that_bounces_leaves_the_request_for_the_counter(sent, counter_client):
    letter = Letter.objects.get()
    letter.state, letter.trouble = "bounced", "mailbox unknown"
    letter.save()
    assert sent.row.state == "unconfirmed"
    page = counter_client.get(reverse("requests:request", args=[sent.row.code])).content.decode()
    assert "mailbox unknown" in page
    assert "came back" in page
    counter_client.post(reverse("requests:confirm-by-hand", args=[sent.row.code]))
    assert sent.row.state == "confirmed"


def test_the_slip_is_there_when_it_is_confirmed(sent, readback):
    Client().post(link_in(Letter.objects.get()))
    answer = sent.client.get(reverse("requests:slip", args=[sent.secret]), {"paper": "a4"})
    assert answer["Content-Type"] == "application/pdf"
    assert readback.codes_of(answer.content) == [sent.row.analyzers.get().slip]
    assert readback.sizes_mm(answer.content) == [pytest.approx((210.0, 297.0), abs=0.2)]


def test_a_sent_request_is_changed_no_more(sent):
    assert sent.at("who")["Location"] == reverse("requests:sent", args=[sent.secret])
    answer = sent.client.post(reverse("requests:step", args=[sent.secret, "who"]), {"firm": "Other"})
    assert answer.status_code == 302
    assert sent.row.firm == "Quayside Air (invented)"


def test_given_up_it_opens_nothing_more(sent):
    address = link_in(Letter.objects.get())
    assert b"thrown away" in sent.post("give-up").content
    assert sent.row.state == "withdrawn"
    assert sent.get("sent").status_code == 410
    assert Client().get(address).status_code == 410
    Client().post(address)
    assert sent.row.state == "withdrawn"


def test_a_request_that_is_a_job_is_not_given_up_here(sent, people, job, now):
    one = sent.row.analyzers.get()
    one.job = job
    one.save()
    assert sent.post("give-up").status_code == 302
    assert sent.row.state == "unconfirmed"


def test_withdrawn_by_the_shop_the_link_confirms_nothing(sent):
    address = link_in(Letter.objects.get())
    withdraw_request(sent.row, "asked twice", None)
    Client().post(address)
    assert sent.row.state == "withdrawn"
    assert b"This was withdrawn" in Client().get(address).content


@pytest.mark.parametrize("name", ["send", "mail-again", "give-up"])
def test_acts_are_posts(sent, name):
    assert sent.get(name).status_code == 405


@pytest.mark.parametrize("name", ["sent", "resume", "slip"])
def test_pages_are_read(sent, name):
    assert sent.post(name).status_code == 405


def test_nobody_is_signed_in_and_nothing_is_opened_at_the_bench(sent):
    Client().post(link_in(Letter.objects.get()))
    assert Job.objects.count() == 0
    assert Person.objects.count() == 0


def test_nothing_that_a_stranger_typed_is_mailed_before_the_address_is_confirmed(stranger):
    bait = "Win at bait.example"
    stranger.fill(model=bait, serial="9-" + bait[:20])
    row = stranger.row
    row.firm = row.contact = bait
    row.save()
    stranger.post("mail-again")
    stranger.post("send")
    letters = list(Letter.objects.order_by("id"))
    assert [letter.kind for letter in letters] == ["draft-link", "confirm-request"]
    assert not any("bait" in letter.subject + letter.text + letter.html for letter in letters)
    assert "1 analyzer" in letters[1].text
