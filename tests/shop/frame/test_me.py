"""The person's own page: name, units, light or dark; nobody else's, and no role."""

import pytest
from django.test import Client
from django.urls import reverse

from flueproof.shop.records.models import Person

ME = reverse("frame:me")
FIELDS = {"first_name": "R.", "last_name": "Vale", "temperature_unit": "degC", "pressure_unit": "Pa", "theme": "dark"}
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def the_technician():
    return Person.objects.get(username="technician")


def test_the_page_shows_name_role_and_how_values_read(technician_client):
    page = technician_client.get(ME).content.decode()
    assert "R. Vale" in page
    assert "Technician" in page
    assert "369.5" in page, "187.5 degC in the unit one begins with"


def test_units_and_look_are_kept_and_hold_at_once(technician_client):
    assert technician_client.post(ME, FIELDS)["Location"] == ME
    page = technician_client.get(ME).content.decode()
    assert "187.5" in page
    assert "−12.4" in page
    assert 'data-theme="dark"' in page
    assert "Saved." in page


@pytest.mark.parametrize(
    ("theme", "sheet"),
    [("light", ""), ("dark", 'media="screen"'), ("auto", 'media="screen and (prefers-color-scheme: dark)"')],
)
def test_the_dark_sheet_is_there_when_it_is_wanted(technician_client, theme, sheet):
    technician_client.post(ME, {**FIELDS, "theme": theme})
    page = technician_client.get(ME).content.decode()
    assert ("dark.css" in page) == bool(sheet)
    assert sheet in page


@pytest.mark.parametrize("wrong", [{"temperature_unit": "kelvin"}, {"theme": "pink"}, {"last_name": "x" * 151}])
def test_what_does_not_fit_is_asked_back_and_the_head_keeps_the_name(technician_client, wrong):
    answer = technician_client.post(ME, {**FIELDS, "first_name": "Other", **wrong})
    page = answer.content.decode()
    assert "wrong" in page
    assert 'value="Other"' in page
    assert "R. Vale</a>" in page
    assert the_technician().first_name == "R."


def test_a_role_or_firm_that_is_sent_along_is_not_taken(technician_client, owner):
    technician_client.post(ME, {**FIELDS, "role": "manager", "owner": owner.pk, "is_superuser": "on", "username": "x"})
    person = the_technician()
    assert (person.role, person.owner, person.is_superuser) == ("technician", None, False)


def test_the_change_is_in_the_history(technician_client):
    technician_client.post(ME, FIELDS)
    last = the_technician().history.first()
    assert (last.temperature_unit, last.history_user.username) == ("degC", "technician")


def test_the_papers_keep_the_shops_units(technician_client, shop):
    technician_client.post(ME, FIELDS)
    shop.refresh_from_db()
    assert shop.paper_units == "us"


def test_a_stranger_is_sent_to_sign_in_and_other_methods_are_refused(technician_client):
    assert Client().post(ME, FIELDS)["Location"].startswith(reverse("frame:login"))
    assert technician_client.delete(ME).status_code == 405
