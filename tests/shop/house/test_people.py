"""People: added, changed, sent away and taken back, helped in again; only by a manager."""

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.utils import timezone
from django_otp.plugins.otp_totp.models import TOTPDevice

from flueproof.shop.records.models import Owner, Person

PASSWORD = "Quiet-copper-kettle-9"  # noqa: S105 -- of invented people in a test database
NEW = {"username": "pat", "first_name": "P.", "last_name": "Loom", "role": "technician", "seen_version": "0"}


def sign_in(name, password=PASSWORD):
    client = Client()
    client.post("/sign-in", {"username": name, "password": password})
    return client


def signed_in(client):
    return "_auth_user_id" in client.session and client.get("/me").status_code == 200


def test_a_new_person_signs_in_with_role_and_password(manager_client, shop):
    assert manager_client.post("/house/people/new", {**NEW, "password": PASSWORD}).status_code == 302
    made = Person.objects.get(username="pat")
    assert (str(made), made.role) == ("P. Loom", "technician")
    assert signed_in(sign_in("pat"))
    assert made.history.last().history_user.username == "manager"


def test_a_second_press_adds_nobody_and_keeps_what_was_typed(manager_client, shop):
    manager_client.post("/house/people/new", {**NEW, "password": PASSWORD})
    answer = manager_client.post("/house/people/new", {**NEW, "password": PASSWORD})
    assert answer.status_code == 422
    assert 'value="Loom"' in answer.content.decode()
    assert Person.objects.filter(last_name="Loom").count() == 1


@pytest.mark.parametrize("password", ["", "short", "1234567890123", "password123"])
def test_a_weak_password_adds_nobody_and_keeps_what_was_typed(manager_client, shop, password):
    answer = manager_client.post("/house/people/new", {**NEW, "password": password})
    assert answer.status_code == 422
    assert 'value="Loom"' in answer.content.decode()
    assert not Person.objects.filter(username="pat").exists()


@pytest.mark.parametrize("typed", ["Tidewater Heating (invented)", "tidewater heating invented", "10042", "#{pk}"])
def test_an_external_person_is_bound_to_the_firm_that_was_typed(manager_client, shop, owner, typed):
    owner.number = "10042"
    owner.save()
    fields = {**NEW, "role": "owner", "owner": typed.format(pk=owner.pk), "password": PASSWORD}
    assert manager_client.post("/house/people/new", fields).status_code == 302
    assert Person.objects.get(username="pat").owner == owner


@pytest.mark.parametrize(
    ("role", "typed", "told"),
    [
        ("owner", "", "Say which firm"),
        ("owner", "Nobody Ltd", "No owner on file"),
        ("owner", "Tidew", "Which one?"),
        ("counter", "Tidewater Heating (invented)", "Only an external person"),
    ],
)
def test_a_firm_that_does_not_fit_is_asked_back(manager_client, shop, owner, role, typed, told):
    answer = manager_client.post("/house/people/new", {**NEW, "role": role, "owner": typed, "password": PASSWORD})
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Person.objects.filter(username="pat").exists()


def test_two_firms_of_one_name_are_told_apart_by_number(manager_client, shop, owner):
    other = Owner.objects.create(name=owner.name)
    fields = {**NEW, "role": "owner", "owner": owner.name, "password": PASSWORD}
    page = manager_client.post("/house/people/new", fields).content.decode()
    assert f"#{owner.pk}" in page
    assert f"#{other.pk}" in page
    assert manager_client.post("/house/people/new", {**fields, "owner": f"#{other.pk}"}).status_code == 302


def change(client, person, **fields):
    kept = {name: getattr(person, name) for name in ("username", "first_name", "last_name", "email", "role")}
    return client.post(f"/house/people/{person.pk}", {**kept, "seen_version": person.version, **fields})


def test_a_changed_role_counts_at_once(manager_client, client_of, people, shop):
    theirs = client_of("technician")
    assert theirs.get("/house/people").status_code == 403
    person = Person.objects.get(username="technician")
    assert change(manager_client, person, role="manager").status_code == 302
    assert theirs.get("/house/people").status_code == 200


def test_the_second_manager_sees_what_the_first_one_changed(manager_client, people, shop):
    person = Person.objects.get(username="technician")
    change(manager_client, person, last_name="Valley")
    answer = change(manager_client, person, first_name="Rae")
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Valley" in page
    assert 'value="Rae"' in page
    assert Person.objects.get(pk=person.pk).first_name == "R."


def test_the_only_manager_cannot_become_something_else_or_leave(manager_client, people, shop):
    me = Person.objects.get(username="manager")
    answer = change(manager_client, me, role="counter")
    assert answer.status_code == 422
    assert "only manager" in answer.content.decode()
    assert "only manager" in manager_client.post(f"/house/people/{me.pk}/leave").content.decode()
    me.refresh_from_db()
    assert (me.role, me.is_active) == ("manager", True)


def test_who_left_is_signed_out_at_once_and_may_come_back(manager_client, client_of, people, shop):
    theirs = client_of("technician")
    pk = people["technician"].pk
    assert manager_client.post(f"/house/people/{pk}/leave").status_code == 302
    assert theirs.get("/").status_code == 302
    version = Person.objects.get(pk=pk).version
    manager_client.post(f"/house/people/{pk}/leave")
    assert Person.objects.get(pk=pk).version == version
    assert manager_client.post(f"/house/people/{pk}/return").status_code == 302
    assert Person.objects.get(pk=pk).is_active


def test_a_new_password_signs_the_person_out_and_is_the_only_one(manager_client, people, shop):
    theirs = sign_in("technician", "Seven-grey-herons-4")
    assert signed_in(theirs)
    assert (
        manager_client.post(f"/house/people/{people['technician'].pk}/password", {"password": PASSWORD}).status_code
        == 302
    )
    assert not signed_in(theirs)
    assert not signed_in(sign_in("technician", "Seven-grey-herons-4"))
    assert signed_in(sign_in("technician"))


def test_a_managers_own_new_password_keeps_them_signed_in(manager_client, people, shop):
    manager_client.post(f"/house/people/{people['manager'].pk}/password", {"password": PASSWORD})
    assert manager_client.get("/house/people").status_code == 200


def test_a_weak_new_password_changes_nothing(manager_client, people, shop):
    answer = manager_client.post(f"/house/people/{people['technician'].pk}/password", {"password": "technician"})
    assert answer.status_code == 422
    assert "Type another" in answer.content.decode()


def test_a_lockout_is_lifted(manager_client, people, shop):
    for _ in range(6):
        sign_in("technician", "wrong")
    assert not signed_in(sign_in("technician", "Seven-grey-herons-4"))
    assert "Lift the lockout" in manager_client.get(f"/house/people/{people['technician'].pk}").content.decode()
    manager_client.post(f"/house/people/{people['technician'].pk}/lockout")
    assert not AccessAttempt.objects.filter(username="technician").exists()
    assert signed_in(sign_in("technician", "Seven-grey-herons-4"))


def test_a_lost_second_factor_is_removed(manager_client, people, shop):
    TOTPDevice.objects.create(user=people["signer"], name="phone", confirmed=True)
    assert "Remove the second factor" in manager_client.get(f"/house/people/{people['signer'].pk}").content.decode()
    for _ in range(2):
        assert manager_client.post(f"/house/people/{people['signer'].pk}/second-factor").status_code == 302
    assert not TOTPDevice.objects.exists()


def test_the_list_shows_everybody_and_who_left_last(manager_client, people, shop):
    Person.objects.create_user("gone", password=PASSWORD, is_active=False, last_login=timezone.now())
    page = manager_client.get("/house/people").content.decode()
    assert page.index("S. Alder") < page.index("has left")


ACTS = ["password", "leave", "return", "lockout", "second-factor"]


@pytest.mark.parametrize("act", ACTS)
def test_acts_on_a_person_by_another_method_are_refused(manager_client, people, shop, act):
    assert manager_client.get(f"/house/people/{people['signer'].pk}/{act}").status_code == 405


@pytest.mark.parametrize("act", ACTS)
def test_an_act_on_nobody_is_not_found(manager_client, shop, act):
    assert manager_client.post(f"/house/people/999999/{act}", {"password": PASSWORD}).status_code == 404


@pytest.mark.parametrize("path", ["", "/new", "/1", *(f"/1/{act}" for act in ACTS)])
@pytest.mark.parametrize("who", ["stranger", "counter", "technician", "signer", "owner"])
def test_nobody_else_comes_near_people(client_of, shop, who, path):
    for method in ("get", "post"):
        answer = getattr(client_of(who), method)(f"/house/people{path}")
        assert answer.status_code == (302 if who == "stranger" else 403)
