"""The public pages in the hands of somebody who means no good: nothing breaks, nothing acts, nobody is flooded."""

import datetime as dt
import json

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.intake.asking.drafts import MOST_ANALYZERS, RequestRefusedError, begin_draft
from flueproof.shop.records.intake.asking.letters import draft_secret, mail_draft_link
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import AnswerLink, Letter, RequestedAnalyzer, ServiceRequest

from .conftest import WHO, Stranger

SCANNER = {"Sec-Purpose": "prefetch", "User-Agent": "mail scanner"}
NASTY = [
    "a\0b",
    "a\x1b[31mb\x07",
    "Ben\r\nBcc: all@world.example",
    "Ben\nSubject: pay now",
    "\u202egnp.exe",
    "\u200b\u2028\u2029\ufeff",
    "{link} {secret} {request}",
    "Pay: https://evil.example/",
    "<img src=x onerror=alert(1)>",
    '#panic("x") \\ $x$ @ref',
    '=HYPERLINK("http://evil.example")',
    "~sealed abc~sealed",
]  # fmt: skip


@pytest.fixture
def secret_of_confirm(sent):
    """The secret in the e-mail that confirms."""
    made = AnswerLink.objects.filter(purpose="confirm").latest("pk")
    from flueproof.shop.records.mailing.seals import unseal

    text = unseal(Letter.objects.filter(kind="confirm-request").latest("pk").text)
    assert made.used_at is None
    return text.split("/service-request/confirm/")[1].split("/")[0]


def test_scanners_that_open_every_link_again_and_again_use_none_up(sent, secret_of_confirm):
    before = Letter.objects.count()
    names = [("confirm", secret_of_confirm), ("resume", sent.secret), ("sent", sent.secret), ("slip", sent.secret)]
    for _ in range(3):
        for name, secret in names:
            for ask in (sent.client.get, sent.client.head):
                assert ask(reverse(f"requests:{name}", args=[secret]), headers=SCANNER).status_code < 500
    assert ServiceRequest.objects.get().state == "unconfirmed"
    assert not AnswerLink.objects.exclude(used_at=None).exists()
    assert Letter.objects.count() == before
    assert sent.client.post(reverse("requests:confirm", args=[secret_of_confirm])).status_code == 302
    assert ServiceRequest.objects.get().state == "confirmed"


def test_slips_are_made_for_nobody_without_end(sent, secret_of_confirm):
    sent.client.post(reverse("requests:confirm", args=[secret_of_confirm]))
    address = reverse("requests:slip", args=[sent.secret])
    answers = {sent.client.head(address).status_code for _ in range(62)}
    assert answers == {200, 429}


@pytest.mark.parametrize("text", NASTY)
def test_odd_signs_in_every_field_break_nothing_and_reach_no_head_of_an_e_mail(shop, text):
    stranger = Stranger()
    begun = stranger.begin(firm=text, contact=text, phone=text[:40])
    if begun.status_code == 422:  # refused where it was typed
        assert "\0" in text
        stranger.begin()
    for step, fields in (
        ("analyzers", {"unit": {"make": text, "model": text, "serial": text, "own_number": text}}),
        ("analyzers", {"unit": {"make": "Orrin", "model": "Orrin 5"}}),
        ("wrong", {"unit": {"complaint": text, "used_on": text, "accidents": [text]}}),
        ("wanted", {"unit": {"service": text, "spend_up_to": text, "due_months": text}, "needed_by": text}),
        ("box", {"unit": {"enclosed": [text], "also_enclosed": text}, "lines": text, "town": text, "note": text}),
        ("box", {"lines": "9 Slip Road"}),
    ):
        assert stranger.save(step, **fields).status_code in {302, 422}
    for step in ("who", "analyzers", "wrong", "wanted", "box", "check"):
        page = stranger.at(step)
        assert page.status_code == 200
        assert b"<img src=x" not in page.content
    assert stranger.post("send").status_code == 302
    row = stranger.row
    for letter in Letter.objects.all():
        assert not any(ord(sign) < 32 for sign in letter.subject + letter.to)
    assert "\0" not in "".join(str(value) for value in vars(row).values())


@pytest.mark.parametrize("text", NASTY)
def test_the_letter_and_the_slip_take_odd_signs_too(sent, readback, text):
    row = sent.row
    one = row.analyzers.get()
    clean = text.replace("\0", "")
    for name in ("make", "model", "serial", "complaint", "used_on", "own_number"):
        setattr(one, name, clean[: one._meta.get_field(name).max_length or 2000])
    one.save()
    row.firm, row.contact, row.state = clean, clean, "confirmed"
    row.save()
    letter = write_letter("request-received", request=row, now=timezone.now())
    assert "<img" not in letter.html
    assert letter.html.count("<a ") == 0
    assert not any(ord(sign) < 32 for sign in letter.subject)
    pdf = sent.get("slip").content
    assert pdf.startswith(b"%PDF")
    assert len(readback.sizes_mm(pdf)) == 1


@pytest.mark.parametrize("field", ["firm", "contact", "phone", "email"])
def test_a_novel_in_a_field_is_refused_where_it_stands(stranger, field):
    assert stranger.begin(**{field: "x" * 300_000}).status_code == 422
    assert not ServiceRequest.objects.exists()


@pytest.mark.parametrize(
    ("step", "fields"),
    [
        ("analyzers", {"unit": {"model": "x" * 300_000}}),
        ("wrong", {"unit": {"complaint": "x" * 300_000}}),
        ("wrong", {"unit": {"used_on": "x" * 300_000}}),
        ("box", {"unit": {"also_enclosed": "x" * 300_000}}),
        ("box", {"lines": "x" * 300_000}),
        ("box", {"lines": "x", "note": "x" * 300_000}),
        ("box", {"lines": "x", "country": "x" * 300_000}),
        ("wanted", {"unit": {"spend_up_to": "9" * 300_000}}),
        ("wanted", {"unit": {"due_months": "9" * 4_000}}),
        ("wanted", {"unit": {"limits_of": "own", "own_co_ppm": "1e999"}}),
        ("wanted", {"unit": {"limits_of": "own", "own_co_ppm": "nan"}}),
    ],
)
def test_a_novel_in_a_step_is_refused_and_nothing_of_it_is_kept(stranger, step, fields):
    stranger.begin()
    answer = stranger.save(step, **fields)
    assert answer.status_code == 422
    row, one = stranger.row, stranger.row.analyzers.get()
    assert max(len(str(value)) for value in [*vars(row).values(), *vars(one).values()]) < 3000


def test_a_request_holds_twenty_analyzers_however_often_one_asks(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"model": "Orrin 5"})
    for _ in range(MOST_ANALYZERS - 1):
        one = stranger.row
        RequestedAnalyzer.objects.create(
            request=one, slip=f"S-{one.analyzers.count()}", model="Orrin 5", limits="profile"
        )
    page = stranger.at("analyzers")
    every = {
        form.add_prefix(name): form[name].value() or "" for form, *_ in page.context["units"] for name in form.fields
    }
    forged = {f"a{key}-{name}": "1" for key in range(900_000, 900_050) for name in ("model", "seen_version")}
    answer = stranger.client.post(
        reverse("requests:step", args=[stranger.secret, "analyzers"]), {**every, **forged, "act": "add"}, follow=True
    )
    assert "at most 20 analyzers" in answer.content.decode()
    assert stranger.row.analyzers.count() == MOST_ANALYZERS


def test_far_too_many_fields_are_refused_before_anything_is_read(stranger):
    stranger.begin()
    many = {f"a{key}-model": "x" for key in range(1200)}
    assert stranger.client.post(reverse("requests:step", args=[stranger.secret, "analyzers"]), many).status_code == 400


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (json.dumps(WHO), "application/json"),
        ("<x/>", "text/xml"),
        ("firm=a", "text/plain"),
        ("--x", "multipart/form-data; boundary=x"),
        ("--x", "multipart/form-data"),
        (b"\xff\xfe\x00", "application/x-www-form-urlencoded"),
        (b"firm=%ED%A0%80&email=a%40b.example&page=%00", "application/x-www-form-urlencoded; charset=utf-8"),
        ("firm=a", "application/x-www-form-urlencoded; charset=no-such-thing"),
    ],
)
def test_a_body_of_another_kind_is_refused_calmly(shop, body, kind):
    asked = Client()
    answer = asked.generic("POST", reverse("requests:begin"), body, content_type=kind)
    assert answer.status_code in {302, 400, 422}


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "TRACE", "OPTIONS"])
@pytest.mark.parametrize("name", ["begin", "confirm", "resume", "send", "sent", "mail-again", "slip", "give-up"])
def test_other_methods_do_nothing(sent, method, name):
    args = [] if name == "begin" else [sent.secret]
    assert sent.client.generic(method, reverse(f"requests:{name}", args=args)).status_code in {404, 405}
    assert ServiceRequest.objects.get().state == "unconfirmed"


def test_one_address_is_not_flooded_through_many_drafts(shop, now):
    def ask(number, email):
        draft = begin_draft({"firm": "x", "email": email}, "page", None, now)
        try:
            mail_draft_link(draft, f"https://bench.example/{number}/", now + dt.timedelta(minutes=number))
        except RequestRefusedError as refused:
            return str(refused)
        return ""

    told = [ask(number, "Victim@world.example" if number % 2 else "victim@world.example") for number in range(9)]
    assert told[:6] == [""] * 6
    assert all("unwanted mail" in words for words in told[6:])
    assert Letter.objects.count() == 6
    assert ask(10, "somebody.else@world.example") == ""


def test_a_secret_of_one_purpose_opens_no_other_door(sent, secret_of_confirm):
    assert sent.client.get(reverse("requests:confirm", args=[sent.secret])).status_code == 404
    for name in ("resume", "sent"):
        assert sent.client.get(reverse(f"requests:{name}", args=[secret_of_confirm])).status_code == 404
    for name in ("send", "give-up"):
        assert sent.client.post(reverse(f"requests:{name}", args=[secret_of_confirm])).status_code == 404
    assert ServiceRequest.objects.get().state == "unconfirmed"


def test_a_draft_s_old_secret_and_its_new_one_are_apart(stranger):
    stranger.begin()
    other = draft_secret(stranger.row, timezone.now() - dt.timedelta(days=31))
    assert stranger.client.get(reverse("requests:resume", args=[other])).status_code == 410
    assert stranger.get("resume").status_code == 302
