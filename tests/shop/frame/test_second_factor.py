"""The second factor: set up with the password, asked for once a session, each code once, taken off again."""

import datetime as dt
import time

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django_otp.oath import TOTP
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from flueproof.shop.frame.second_factor import backup_codes_left, has_second_factor, new_backup_codes
from shop.conftest import PASSWORD

from .crawling import Page, leaves_the_shop

PAGE, OFF, CODES = (reverse(f"frame:second-factor{end}") for end in ("", "-off", "-codes"))
SIGN_IN, CODE, ME = reverse("frame:login"), reverse("frame:code"), reverse("frame:me")
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def code_of(device, steps=0):
    """Return what the phone shows now, or so many half minutes later."""
    made = TOTP(device.bin_key, device.step, device.t0, device.digits, device.drift)
    made.time = time.time() + steps * device.step
    return f"{made.token():06d}"


def another_than(code):
    return f"{(int(code) + 1) % 1_000_000:06d}"


@pytest.fixture
def device(people):
    """A phone that the technician confirmed some time ago."""
    return TOTPDevice.objects.create(user=people["technician"], name="phone", confirmed=True)


@pytest.fixture
def at_the_code(device):
    """A client whose person has shown the password and not yet the code."""
    client = Client()
    client.post(SIGN_IN, {"username": "technician", "password": PASSWORD})
    return client


def inside(client):
    return client.get(ME).status_code == 200


def holds_nothing_inline(page):
    """Return True when a page with a drawing made by a library keeps to the policy of all pages."""
    read = Page("/")
    read.feed(page)
    return not read.forbidden and not [one for _, _, one in read.reaches if leaves_the_shop(one)]


def wait(device):
    """Let the wait after a wrong code be over."""
    device.refresh_from_db()
    device.throttling_failure_timestamp = timezone.now() - dt.timedelta(hours=1)
    device.save()


class TestSettingItUp:
    """The password first, then the key, then the first code."""

    def test_the_key_is_not_shown_before_the_password(self, technician_client, people):
        page = technician_client.get(PAGE).content.decode()
        assert 'class="qr"' not in page
        assert 'type="password"' in page
        assert not TOTPDevice.objects.exists()

    def test_a_wrong_password_shows_no_key(self, technician_client):
        answer = technician_client.post(PAGE, {"password": "not-mine-at-all"})
        assert "This is not your password." in answer.content.decode()
        assert 'class="qr"' not in technician_client.get(PAGE).content.decode()

    def test_a_code_without_the_password_switches_nothing_on(self, technician_client, people):
        device = TOTPDevice.objects.create(user=people["technician"], name="phone", confirmed=False)
        technician_client.post(PAGE, {"code": code_of(device)})
        assert not has_second_factor(people["technician"])

    def test_the_password_shows_the_key_as_picture_and_as_letters(self, technician_client, people):
        assert technician_client.post(PAGE, {"password": PASSWORD})["Location"] == PAGE
        answer = technician_client.get(PAGE)
        page = answer.content.decode()
        key = TOTPDevice.objects.get(user=people["technician"]).config_url.split("secret=")[1].split("&")[0]
        assert 'class="qr"' in page
        assert key in page.replace(" ", "")
        assert holds_nothing_inline(page)
        assert "no-store" in answer["Cache-Control"]

    def test_the_first_code_switches_it_on_and_gives_ten_backup_codes(self, technician_client, people):
        technician_client.post(PAGE, {"password": PASSWORD}, follow=True)
        device = TOTPDevice.objects.get(user=people["technician"])
        page = technician_client.post(PAGE, {"code": code_of(device)}).content.decode()
        assert page.count('<li class="plate">') == 10
        assert has_second_factor(people["technician"])
        assert backup_codes_left(people["technician"]) == 10
        assert inside(technician_client), "this session has shown its code"

    def test_a_wrong_first_code_switches_nothing_on(self, technician_client, people):
        technician_client.post(PAGE, {"password": PASSWORD}, follow=True)
        device = TOTPDevice.objects.get(user=people["technician"])
        answer = technician_client.post(PAGE, {"code": another_than(code_of(device))})
        assert "This code is not right" in answer.content.decode()
        assert not has_second_factor(people["technician"])

    def test_the_password_is_asked_again_after_ten_minutes(self, technician_client, monkeypatch):
        technician_client.post(PAGE, {"password": PASSWORD})
        later = timezone.now() + dt.timedelta(minutes=10, seconds=2)
        monkeypatch.setattr("flueproof.shop.frame.views.second_factor.timezone.now", lambda: later)
        assert 'class="qr"' not in technician_client.get(PAGE).content.decode()

    def test_each_password_makes_a_new_key(self, technician_client, people):
        keys = set()
        for _ in range(2):
            technician_client.post(PAGE, {"password": PASSWORD})
            technician_client.get(PAGE)
            keys.add(TOTPDevice.objects.get(user=people["technician"]).key)
            session = technician_client.session
            session.pop("second-factor-password-given")
            session.save()
        assert len(keys) == 2

    def test_a_phone_set_up_halfway_asks_for_nothing(self, technician_client):
        technician_client.post(PAGE, {"password": PASSWORD})
        technician_client.get(PAGE)
        client = Client()
        client.post(SIGN_IN, {"username": "technician", "password": PASSWORD})
        assert inside(client)


class TestSigningInWithIt:
    """No page without the code."""

    def test_the_password_alone_opens_no_page(self, at_the_code):
        answer = at_the_code.get("/gas/")
        assert answer["Location"] == f"{CODE}?next=%2Fgas%2F"
        assert at_the_code.post(reverse("frame:password")).status_code == 302

    def test_nor_a_fragment(self, at_the_code):
        headers = {"HX-Request": "true", "HX-Current-URL": "http://testserver/gas/"}
        assert at_the_code.get("/", headers=headers)["HX-Redirect"] == f"{CODE}?next=%2Fgas%2F"

    def test_the_code_opens_the_page_that_was_asked_for(self, at_the_code, device):
        assert at_the_code.post(CODE, {"code": code_of(device), "next": "/gas/"})["Location"] == "/gas/"
        assert inside(at_the_code)

    def test_it_leads_to_no_other_site(self, at_the_code, device):
        answer = at_the_code.post(CODE, {"code": code_of(device), "next": "https://elsewhere.example/"})
        assert answer["Location"] == reverse("counter:jobs")

    def test_spaces_in_it_do_no_harm(self, at_the_code, device):
        code = code_of(device)
        at_the_code.post(CODE, {"code": f" {code[:3]} {code[3:]} "})
        assert inside(at_the_code)

    def test_a_wrong_code_opens_nothing_and_says_how_long_to_wait(self, at_the_code, device):
        for _ in range(2):
            answer = at_the_code.post(CODE, {"code": another_than(code_of(device))})
        assert "This code is not right. Wait " in answer.content.decode()
        assert not inside(at_the_code)

    def test_during_the_wait_the_right_one_opens_nothing_either(self, at_the_code, device):
        at_the_code.post(CODE, {"code": another_than(code_of(device))})
        at_the_code.post(CODE, {"code": code_of(device)})
        assert not inside(at_the_code)
        wait(device)
        at_the_code.post(CODE, {"code": code_of(device)})
        assert inside(at_the_code)

    def test_a_code_that_was_used_opens_nothing_again(self, at_the_code, device):
        code = code_of(device)
        at_the_code.post(CODE, {"code": code})
        at_the_code.post(reverse("frame:logout"))
        at_the_code.post(SIGN_IN, {"username": "technician", "password": PASSWORD})
        assert "This code is not right" in at_the_code.post(CODE, {"code": code}).content.decode()
        assert not inside(at_the_code)

    def test_an_old_code_opens_nothing(self, at_the_code, device):
        at_the_code.post(CODE, {"code": code_of(device, steps=-4)})
        assert not inside(at_the_code)

    def test_one_who_has_none_is_not_asked(self, signer_client):
        assert signer_client.get(CODE)["Location"] == reverse("counter:jobs")


class TestBackupCodes:
    """For the day the phone is not at hand."""

    def test_each_opens_once(self, at_the_code, device, people):
        first, second = new_backup_codes(people["technician"])[:2]
        at_the_code.post(CODE, {"code": first.upper()})
        assert inside(at_the_code)
        assert backup_codes_left(people["technician"]) == 9
        again = Client()
        again.post(SIGN_IN, {"username": "technician", "password": PASSWORD})
        again.post(CODE, {"code": first})
        assert not inside(again)
        wait(StaticDevice.objects.get())
        again.post(CODE, {"code": second.replace("-", "")})
        assert inside(again)

    def test_the_database_does_not_hold_them_as_typed(self, people):
        codes = new_backup_codes(people["technician"])
        kept = set(StaticToken.objects.values_list("token", flat=True))
        assert len(kept) == 10
        assert not kept & {form for code in codes for form in (code, code.replace("-", ""))}

    def test_they_are_nobody_elses(self, at_the_code, device, people):
        theirs = new_backup_codes(people["signer"])[0]
        at_the_code.post(CODE, {"code": theirs})
        assert not inside(at_the_code)

    def test_new_ones_end_the_old_ones_and_need_the_password(self, at_the_code, device, people):
        old = new_backup_codes(people["technician"])
        at_the_code.post(CODE, {"code": code_of(device)})
        assert "This is not your password" in at_the_code.post(CODES, {"password": "not-mine-1"}).content.decode()
        assert backup_codes_left(people["technician"]) == 10
        page = at_the_code.post(CODES, {"password": PASSWORD}).content.decode()
        assert page.count('<li class="plate">') == 10
        assert not any(code in page for code in old)


class TestTakingItOff:
    """By oneself with the password, by the manager without."""

    def test_with_the_password_it_is_off(self, at_the_code, device, people):
        new_backup_codes(people["technician"])
        at_the_code.post(CODE, {"code": code_of(device)})
        assert at_the_code.post(OFF, {"password": PASSWORD})["Location"] == ME
        assert not has_second_factor(people["technician"])
        assert not StaticDevice.objects.exists()

    def test_a_wrong_password_leaves_it_on(self, at_the_code, device, people):
        at_the_code.post(CODE, {"code": code_of(device)})
        at_the_code.post(OFF, {"password": "not-mine-1"})
        assert has_second_factor(people["technician"])

    def test_it_needs_a_press_and_the_code_of_this_session(self, at_the_code, device, people):
        assert at_the_code.post(OFF, {"password": PASSWORD})["Location"].startswith(CODE)
        assert has_second_factor(people["technician"])
        at_the_code.post(CODE, {"code": code_of(device)})
        assert at_the_code.get(OFF).status_code == at_the_code.get(CODES).status_code == 405

    def test_a_second_press_does_nothing(self, technician_client):
        assert technician_client.post(OFF, {"password": PASSWORD})["Location"] == PAGE
        assert technician_client.post(CODES, {"password": PASSWORD})["Location"] == PAGE

    def test_the_manager_takes_it_off_for_who_lost_the_phone(self, manager_client, device, people):
        new_backup_codes(people["technician"])
        page = manager_client.get(reverse("house:person", args=[people["technician"].pk])).content.decode()
        assert reverse("house:second-factor", args=[people["technician"].pk]) in page
        manager_client.post(reverse("house:second-factor", args=[people["technician"].pk]))
        client = Client()
        client.post(SIGN_IN, {"username": "technician", "password": PASSWORD})
        assert inside(client)
        assert not StaticDevice.objects.exists()
