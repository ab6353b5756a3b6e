"""The public steps: saved one by one, resumed anywhere, two tabs lose nothing, whatever is typed stays text."""

import datetime as dt
import html

import pytest
from django.db.models import F
from django.test import Client
from django.urls import reverse

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.records.models import Analyzer, AnswerLink, Letter, ServiceRequest, Shop

from .conftest import WHO


def test_the_first_step_begins_a_draft_and_pressed_twice_one(stranger):
    first = stranger.begin()
    again = stranger.begin()
    assert first.status_code == again.status_code == 302
    assert ServiceRequest.objects.count() == 1
    row = stranger.row
    assert (row.state, row.source, row.firm, row.email) == ("draft", "page", WHO["firm"], WHO["email"])
    assert row.history.first().history_user is None


@pytest.mark.parametrize(
    "wrong", [{"email": ""}, {"email": "no address"}, {"firm": "", "contact": ""}, {"firm": "x" * 201}]
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(stranger, wrong):
    answer = stranger.begin(**wrong)
    assert answer.status_code == 422
    assert b'class="wrong"' in answer.content
    assert b"555-0122" in answer.content
    assert ServiceRequest.objects.count() == 0


def test_each_step_is_saved_and_leads_to_the_next(stranger):
    stranger.fill()
    row, one = stranger.row, stranger.row.analyzers.get()
    assert row.step == 6
    assert (one.make, one.serial, one.complaint, one.accidents) == ("Orrin", "O5-20417", "CO stays at 3 ppm", ["wet"])
    assert (one.service, one.enclosed, one.limits, one.as_found) == (
        "verify-adjust",
        ["probe", "hose"],
        "profile",
        True,
    )
    assert (row.lines, row.town) == ("9 Slip Road", "Port Alder")
    page = stranger.at("check").content.decode()
    for wanted in ("O5-20417", "CO stays at 3 ppm", "got wet", "9 Slip Road", "Whole probe assembly"):
        assert wanted in page


def test_a_draft_goes_on_where_it_was_left_on_another_device(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"model": "Orrin 5"})
    elsewhere = Client()
    answer = elsewhere.get(reverse("requests:resume", args=[stranger.secret]))
    assert answer["Location"] == reverse("requests:step", args=[stranger.secret, "wrong"])
    assert elsewhere.get(answer["Location"]).status_code == 200


def test_the_address_is_mailed_when_asked_for_and_not_very_often(stranger):
    stranger.begin()
    assert Letter.objects.count() == 0
    for _ in range(5):
        stranger.post("mail-again")
        Letter.objects.update(made_at=F("made_at") - dt.timedelta(minutes=2))  # no second press of the same minute
    letters = Letter.objects.filter(kind="draft-link")
    assert [one.to for one in letters] == [WHO["email"]] * 3


def test_another_tab_s_change_is_seen_before_anything_is_overwritten(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"make": "Orrin", "model": "Orrin 5", "serial": "O5-20417"})
    tab = stranger.at("wrong").context["units"][0][0]
    old = {f"{tab.prefix}-seen_version": tab["seen_version"].value(), f"{tab.prefix}-complaint": "from the second tab"}
    stranger.save("wrong", unit={"complaint": "from the first tab", "used_on": "oil"})
    address = reverse("requests:step", args=[stranger.secret, "wrong"])
    answer = stranger.client.post(address, old)
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "changed in another tab" in text
    assert "from the first tab" in text
    assert "from the second tab" in text
    assert stranger.row.analyzers.get().complaint == "from the first tab"
    form = answer.context["units"][0][0]
    assert form["used_on"].value() == "oil"
    again = {form.add_prefix(name): form[name].value() for name in ("seen_version", "complaint", "used_on")}
    assert stranger.client.post(address, again).status_code == 302
    one = stranger.row.analyzers.get()
    assert (one.complaint, one.used_on) == ("from the second tab", "oil")


def test_several_analyzers_are_added_and_taken_off(stranger):
    stranger.begin()
    answer = stranger.save("analyzers", act="add", unit={"model": "Orrin 5", "serial": "O5-1"})
    assert "#analyzer-" in answer["Location"]
    first, second = stranger.row.analyzers.all()
    stranger.save("analyzers", act=f"off-{second.pk}")
    assert list(stranger.row.analyzers.all()) == [first]
    assert stranger.row.analyzers.get().serial == "O5-1"


def test_an_analyzer_that_another_tab_added_is_not_read_from_the_old_page(stranger):
    stranger.begin()
    page = stranger.at("analyzers").context["units"][0][0]
    stranger.save("analyzers", act="add", unit={"model": "Orrin 5"})
    fresh = stranger.row.analyzers.order_by("id").first()
    posted = {f"{page.prefix}-seen_version": fresh.version, f"{page.prefix}-model": "Orrin 6"}
    answer = stranger.client.post(reverse("requests:step", args=[stranger.secret, "analyzers"]), posted)
    assert answer.status_code == 302
    assert [one.model for one in stranger.row.analyzers.all()] == ["Orrin 6", ""]


def test_the_same_is_wanted_for_all_unless_said_otherwise(stranger):
    stranger.begin()
    stranger.save("analyzers", act="add", unit={"model": "Orrin 5"})
    second = stranger.row.analyzers.last()
    stranger.save("analyzers", **{f"a{second.pk}-model": "Orrin 5"})
    assert stranger.at("wanted").context["same"] is True
    stranger.save("wanted", unit={"service": "call-first"}, same="on")
    assert {one.service for one in stranger.row.analyzers.all()} == {"call-first"}
    stranger.save("wanted", unit={"service": "verify"})
    assert [one.service for one in stranger.row.analyzers.all()] == ["verify", "call-first"]
    assert stranger.at("wanted").context["same"] is False


def test_a_repair_asks_for_its_sum_and_own_limits_for_a_figure(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"model": "Orrin 5"})
    assert stranger.save("wanted", unit={"service": "repair"}).status_code == 422
    assert stranger.save("wanted", unit={"limits_of": "own"}).status_code == 422
    own = {"limits_of": "own", "own_co_ppm": "5", "own_co_percent": "10", "own_o2": "0.3"}
    assert stranger.save("wanted", unit={"service": "repair", "spend_up_to": "250", **own}).status_code == 302
    one = stranger.row.analyzers.get()
    assert str(one.spend_up_to) == "250.00"
    assert one.limits == {
        "co": {"absolute": 5, "unit": "ppm", "percent": 10, "of": "reference"},
        "o2": {"absolute": 0.3, "unit": "%"},
    }


def test_a_day_that_is_over_is_asked_about(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"model": "Orrin 5"})
    past = (dt.date.today() - dt.timedelta(days=3)).isoformat()  # noqa: DTZ011 -- the page asks the day of the shop
    assert stranger.save("wanted", needed_by=past).status_code == 422
    assert stranger.row.needed_by is None


def test_an_odd_serial_is_asked_about_once_and_never_refused(stranger, owner):
    for number in range(8):
        Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"O5-2000{number}")
    stranger.begin()
    plate = {"make": "Orrin", "model": "Orrin 5", "serial": "05-2000"}
    asked = stranger.save("analyzers", unit=plate)
    assert asked.status_code == 422
    assert b"does not look like a serial of this model" in asked.content
    form = asked.context["units"][0][0]
    again = {form.add_prefix(name): form[name].value() or "" for name in form.fields}
    answer = stranger.client.post(reverse("requests:step", args=[stranger.secret, "analyzers"]), again)
    assert answer.status_code == 302
    assert stranger.row.analyzers.get().serial == "05-2000"


def test_a_script_in_every_field_stays_text(stranger):
    bad = "<script>alert(1)</script>\"'&{{7*7}}"
    stranger.begin(firm=bad, contact=bad, phone=bad[:40])
    stranger.save("analyzers", unit=dict.fromkeys(("make", "model", "serial", "own_number"), bad))
    stranger.save("analyzers", unit={"asked_serial": bad[:60]})
    stranger.save("wrong", unit={"complaint": bad, "used_on": bad})
    stranger.save("box", unit={"also_enclosed": bad}, lines=bad, town=bad, carrier=bad, note=bad)
    for step in ("who", "analyzers", "wrong", "wanted", "box", "check"):
        page = stranger.at(step).content.decode()
        assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in stranger.at("check").content.decode()


@pytest.mark.parametrize("name", ["nothing", "CHECK"])
def test_steps_that_there_are_not(stranger, name):
    stranger.begin()
    assert stranger.client.get(f"/service-request/{stranger.secret}/{name}/").status_code == 404


@pytest.mark.parametrize("secret", ["x", "a" * 300, "../../etc", "%00", "Ada~Quay"])
def test_a_secret_that_is_none_opens_nothing(stranger, secret):
    for address in (
        f"/service-request/{secret}/",
        f"/service-request/{secret}/who/",
        f"/service-request/confirm/{secret}/",
    ):
        assert stranger.client.get(address).status_code == 404


def test_guessing_secrets_is_stopped(stranger):
    answers = {stranger.client.get(f"/service-request/guess{n}/").status_code for n in range(60)}
    assert answers == {404, 429}


def test_beginning_over_and_over_is_stopped(stranger):
    codes = [stranger.begin(page=f"p{n}").status_code for n in range(14)]
    assert codes == [302] * 12 + [429] * 2
    assert ServiceRequest.objects.count() == 12


def test_an_old_draft_says_so(stranger):
    stranger.begin()
    AnswerLink.objects.update(expires_at=dt.datetime(2020, 1, 1, tzinfo=dt.UTC))
    answer = stranger.at("who")
    assert answer.status_code == 410
    assert b"too old" in answer.content
    assert stranger.post("mail-again").status_code == 410
    assert ServiceRequest.objects.count() == 1


def test_switched_off_it_says_whom_to_ring(stranger, shop):
    stranger.begin()
    row = Shop.here()
    row.public_requests, row.phone = False, "555-0100"
    row.save()
    from django.core.cache import cache

    cache.clear()
    for answer in (stranger.client.get(reverse("requests:begin")), stranger.begin(page="p2"), stranger.at("who")):
        assert answer.status_code == 404
        assert b"Requests by phone" in answer.content
        assert b"555-0100" in answer.content
    assert ServiceRequest.objects.count() == 1


def test_a_form_from_another_site_is_refused(shop):
    strict = Client(enforce_csrf_checks=True)
    assert strict.post(reverse("requests:begin"), WHO).status_code == 403
    assert ServiceRequest.objects.count() == 0


def test_limits_that_another_tab_saved_are_not_overwritten_unseen(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"model": "Orrin 5"})
    old = stranger.at("wanted")
    own, unit = old.context["own"], old.context["units"][0][0]
    first = {"limits_of": "own", "own_co_ppm": "5"}
    stranger.save("wanted", unit=first)
    sent = {one.add_prefix(name): one[name].value() for one in (own, unit) for name in one.fields}
    sent = {name: value for name, value in sent.items() if value not in (None, False, "")}
    address = reverse("requests:step", args=[stranger.secret, "wanted"])
    answer = stranger.client.post(address, {**sent, f"{unit.prefix}-service": "verify"})
    assert answer.status_code == 422
    form = answer.context["units"][0][0]
    assert (form["limits_of"].value(), form["own_co_ppm"].value(), form["service"].value()) == ("own", "5", "verify")
    again = {one.add_prefix(name): one[name].value() for one in (own, form) for name in one.fields}
    again = {name: value for name, value in again.items() if value not in (None, False, "")}
    assert stranger.client.post(address, again).status_code == 302
    one = stranger.row.analyzers.get()
    assert (one.limits, one.service) == ({"co": {"absolute": 5.0, "unit": "ppm"}}, "verify")


def test_the_page_says_of_batteries_what_the_slip_says(stranger):
    stranger.begin()
    stranger.save("analyzers", unit={"make": "Orrin", "model": "Orrin 5", "serial": "O5-20417"})
    assert caution_words("batteries") in html.unescape(stranger.at("box").content.decode())
