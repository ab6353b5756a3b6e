"""Signing in and out: by name and password, with a door that closes for a while after five wrong passwords."""

import datetime as dt

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import Person
from shop.conftest import PASSWORD
from shop.serving import running_shop

SIGN_IN = reverse("frame:login")
pytestmark = pytest.mark.django_db


def knock(client, name="technician", password="wrong-one", address="10.0.0.7", **fields):  # noqa: S107 -- not one's password
    return client.post(SIGN_IN, {"username": name, "password": password, **fields}, REMOTE_ADDR=address)


def let_in(answer):
    return answer.status_code == 302 and "_auth_user_id" in answer.client.session


def close_the_door(client, **at):
    return [knock(client, **at) for _ in range(5)][-1]


def test_the_page_stands_there_with_the_shops_name_and_no_head(client, shop):
    page = client.get(SIGN_IN).content.decode()
    assert shop.name in page
    assert "masthead" not in page
    assert 'autocomplete="current-password"' in page


def test_name_and_password_let_a_person_in(client, people, shop):
    assert let_in(knock(client, password=PASSWORD))
    assert client.get(reverse("frame:me")).status_code == 200


@pytest.mark.parametrize(("name", "password"), [("technician", "wrong-one"), ("nobody", PASSWORD)])
def test_what_was_wrong_is_not_told_apart_and_the_name_is_kept(client, people, shop, name, password):
    answer = knock(client, name=name, password=password)
    page = answer.content.decode()
    assert not let_in(answer)
    assert "do not belong together" in page
    assert f'value="{name}"' in page
    assert password not in page


def test_who_left_is_not_let_in(client, people, shop):
    person = Person.objects.get(username="technician")
    person.is_active = False
    person.save()
    assert not let_in(knock(client, password=PASSWORD))


def test_who_is_signed_in_does_not_see_the_form_again(technician_client, shop):
    assert technician_client.get(SIGN_IN)["Location"] == reverse("counter:jobs")


def test_signing_out_ends_the_session_and_needs_a_press(technician_client, shop):
    assert technician_client.get(reverse("frame:logout")).status_code == 405
    assert technician_client.get(reverse("frame:me")).status_code == 200
    assert technician_client.post(reverse("frame:logout")).status_code == 302
    assert technician_client.get(reverse("frame:me"))["Location"].startswith(SIGN_IN)


def test_a_session_gets_a_new_key_when_somebody_signs_in(client, people, shop):
    client.get(SIGN_IN)
    session = client.session
    session["before"] = True
    session.save()
    before = session.session_key
    client.cookies["sessionid"] = before
    knock(client, password=PASSWORD)
    assert client.session.session_key != before


def test_a_fragment_asked_for_by_a_stranger_sends_the_whole_page_to_the_sign_in(client, shop):
    headers = {"HX-Request": "true", "HX-Current-URL": "http://testserver/gas/"}
    answer = client.get(reverse("counter:jobs"), headers=headers)
    assert answer["HX-Redirect"] == f"{SIGN_IN}?next=%2Fgas%2F"


class TestFiveWrongPasswords:
    """The door closes for a name at an address, says until when, and opens again."""

    def test_the_fifth_is_answered_429_with_when_to_come_back(self, client, people, shop):
        before = timezone.now()
        assert [knock(client).status_code for _ in range(4)] == [200] * 4
        answer = knock(client)
        until = timezone.localtime(before + dt.timedelta(minutes=15))
        assert answer.status_code == 429
        assert 890 <= int(answer["Retry-After"]) <= 900
        page = answer.content.decode()
        assert any(f"{until + dt.timedelta(minutes=late):%H:%M}" in page for late in (0, 1))
        assert "also not the right one" in page

    def test_then_the_right_password_does_not_help_either(self, client, people, shop):
        close_the_door(client)
        answer = knock(client, password=PASSWORD)
        assert answer.status_code == 429
        assert not let_in(answer)

    def test_another_name_and_another_address_are_let_in(self, client, people, shop):
        close_the_door(client)
        assert let_in(knock(Client(), name="signer", password=PASSWORD))
        assert let_in(knock(Client(), password=PASSWORD, address="10.0.0.8"))

    def test_another_browser_at_the_same_address_is_not(self, client, people, shop):
        close_the_door(client)
        other = Client(headers={"user-agent": "another browser"})
        assert knock(other, password=PASSWORD).status_code == 429

    def test_knocking_on_makes_it_no_longer(self, client, people, shop):
        close_the_door(client)
        kept = AccessAttempt.objects.get().attempt_time
        knock(client)
        assert AccessAttempt.objects.get().attempt_time == kept

    def test_after_a_quarter_of_an_hour_it_opens(self, client, people, shop):
        close_the_door(client)
        row = AccessAttempt.objects.get()
        row.attempt_time = timezone.now() - dt.timedelta(minutes=14)
        row.save()
        assert int(knock(client, password=PASSWORD)["Retry-After"]) <= 60
        row.attempt_time = timezone.now() - dt.timedelta(minutes=15, seconds=1)
        row.save()
        assert let_in(knock(client, password=PASSWORD))

    def test_the_right_one_in_between_starts_the_count_anew(self, client, people, shop):
        for _ in range(2):
            assert [knock(client).status_code for _ in range(4)] == [200] * 4
            assert let_in(knock(client, password=PASSWORD))
            client.post(reverse("frame:logout"))

    def test_no_typed_password_is_kept(self, client, people, shop):
        knock(client, password="Nearly-my-password-1")  # noqa: S106 -- a wrong one
        row = AccessAttempt.objects.get()
        assert "Nearly" not in row.post_data + row.get_data
        assert "****" in row.post_data


MAKE = """
from flueproof.shop.records.models import Person
Person.objects.create_user("vale", password="Seven-grey-herons-4", role="technician", last_name="Vale")
"""
KNOCK = """
import http.cookiejar, re, sys, urllib.error, urllib.parse, urllib.request
address = sys.argv[1]
jar = http.cookiejar.CookieJar()
opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
def post(path, **fields):
    with opener.open(address + "/sign-in") as answer:
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', answer.read().decode())[1]
    body = urllib.parse.urlencode({"csrfmiddlewaretoken": token, **fields}).encode()
    try:
        with opener.open(address + path, body) as answer:
            print(answer.status, answer.geturl().removeprefix(address))
    except urllib.error.HTTPError as error:
        page = error.read().decode()
        print(error.code, 0 < int(error.headers["Retry-After"]) <= 900, "vale" in page)
for _ in range(5):
    post("/sign-in", username="vale", password="wrong-one")
"""


def test_under_the_real_server_the_answer_is_the_same(tmp_path):
    with running_shop(tmp_path, make=MAKE) as running:
        said = running.python(KNOCK, running.address).split("\n")
    assert said == [*["200 /sign-in"] * 4, "429 True True", ""]
