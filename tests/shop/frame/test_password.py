"""Changing one's own password: the old one is asked for, the rules hold, other sessions end."""

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse

from flueproof.shop.records.models import Person
from shop.conftest import PASSWORD, signed_in

CHANGE = reverse("frame:password")
NEW = "Quiet-copper-kettle-9"
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def change(client, password=PASSWORD, new=NEW, again=NEW):
    return client.post(CHANGE, {"password": password, "new": new, "again": again})


def holds(name, password):
    return Person.objects.get(username=name).check_password(password)


def test_the_page_shows_three_fields_and_the_rules(technician_client):
    page = technician_client.get(CHANGE).content.decode()
    assert page.count('type="password"') == 3
    assert "At least 10 signs" in page


def test_the_new_password_holds_and_this_session_stays(technician_client):
    assert change(technician_client)["Location"] == reverse("frame:me")
    assert holds("technician", NEW)
    page = technician_client.get(reverse("frame:me"))
    assert page.status_code == 200
    assert "signed out everywhere else" in page.content.decode()


def test_all_other_sessions_of_this_person_end_and_nobody_elses(technician_client, signer_client, people):
    at_home = signed_in(people["technician"])
    assert at_home.get(reverse("frame:me")).status_code == 200
    change(technician_client)
    assert at_home.get(reverse("frame:me"))["Location"].startswith(reverse("frame:login"))
    assert signer_client.get(reverse("frame:me")).status_code == 200


def test_without_the_old_one_nothing_changes(technician_client):
    answer = change(technician_client, password="not-the-old-one")  # noqa: S106 -- a wrong one
    assert "This is not your password." in answer.content.decode()
    assert holds("technician", PASSWORD)


@pytest.mark.parametrize(
    ("new", "told"),
    [
        ("Short-1", "too short"),
        ("4815162342108", "entirely numeric"),
        ("password1234", "too common"),
        ("technician-1", "too similar to the username"),
        ("", "required"),
    ],
)
def test_a_weak_one_is_refused_in_words(technician_client, new, told):
    answer = change(technician_client, new=new, again=new)
    assert told in answer.content.decode()
    assert holds("technician", PASSWORD)


def test_two_that_differ_are_asked_back(technician_client):
    answer = change(technician_client, again=NEW + "x")
    assert "The two new passwords differ" in answer.content.decode()
    assert holds("technician", PASSWORD)


def test_a_refused_form_gives_no_password_back(technician_client):
    page = change(technician_client, again=NEW + "x").content.decode()
    assert NEW not in page
    assert PASSWORD not in page


def test_a_second_press_is_told_that_the_old_one_is_gone(technician_client):
    change(technician_client)
    assert "This is not your password." in change(technician_client).content.decode()
    assert holds("technician", NEW)


def test_five_wrong_old_ones_close_the_door_as_at_the_sign_in(technician_client):
    answers = [change(technician_client, password="not-the-old-one").status_code for _ in range(5)]  # noqa: S106 -- a wrong one
    assert answers == [200, 200, 200, 200, 429]
    assert change(technician_client).status_code == 429
    assert holds("technician", PASSWORD)


def test_the_right_one_in_between_starts_the_count_anew(technician_client):
    for _ in range(4):
        change(technician_client, password="not-the-old-one")  # noqa: S106 -- a wrong one
    change(technician_client, again=NEW + "x")
    assert not AccessAttempt.objects.exists()


def test_what_was_to_become_the_password_is_not_kept_with_a_wrong_try(technician_client):
    change(technician_client, password="not-the-old-one")  # noqa: S106 -- a wrong one
    assert NEW not in AccessAttempt.objects.get().post_data


def test_a_stranger_is_sent_to_sign_in():
    assert change(Client())["Location"].startswith(reverse("frame:login"))


def test_another_method_is_refused(technician_client):
    assert technician_client.delete(CHANGE).status_code == 405
