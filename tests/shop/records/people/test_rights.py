"""The table of rights: the page of the handbook holds the same, cell by cell; each page may ask for its rights only."""

import re
from pathlib import Path

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.test import RequestFactory

from flueproof.shop.records.access.tokens import token_may
from flueproof.shop.records.models import ApiToken, Person
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, RIGHTS, ROLES, may, requires

PAGE = Path(__file__).resolve().parents[4] / "docs/guide/rights.md"
CELLS = [(right, role) for right in RIGHTS for role in ROLES]


def rows_of_the_page():
    rows = re.findall(r"(?m)^\|(.*)\|$", PAGE.read_text(encoding="utf-8"))
    return [[cell.strip() for cell in row.split("|")] for row in rows]


def test_the_page_has_a_column_for_each_role_and_a_row_for_each_right():
    heading, _, *rows = rows_of_the_page()
    assert heading[2:] == [dict(Person.ROLES)[role] for role in ROLES]
    assert [(row[0].strip("`"), row[1]) for row in rows] == list(RIGHT_IN_WORDS.items())
    assert RIGHTS.keys() == RIGHT_IN_WORDS.keys()


@pytest.mark.parametrize(("right", "role"), CELLS)
def test_a_cell_of_the_page_is_the_cell_of_the_program(right, role):
    (row,) = [row for row in rows_of_the_page() if row[0] == f"`{right}`"]
    assert row[2 + ROLES.index(role)] == ("yes" if role in RIGHTS[right] else "no")


@pytest.mark.parametrize(("right", "role"), CELLS)
def test_a_person_may_what_the_page_says(right, role):
    (row,) = [row for row in rows_of_the_page() if row[0] == f"`{right}`"]
    person = Person(username="x", role=role)
    assert may(person, right) == (row[2 + ROLES.index(role)] == "yes")
    assert token_may(ApiToken(rights=[right], person=person), right) == may(person, right)


@pytest.mark.parametrize("right", RIGHTS)
def test_who_left_and_who_never_came_may_nothing(right):
    assert not may(AnonymousUser(), right)
    assert not any(may(Person(username="x", role=role, is_active=False), right) for role in ROLES)
    assert not may(Person(username="x", role="somebody"), right)


def test_a_token_holds_no_more_than_was_put_into_it():
    manager = Person(username="x", role="manager")
    assert not token_may(ApiToken(rights=["see-jobs"], person=manager), "change-jobs")


def test_a_right_that_is_not_in_the_table_fails_at_once():
    with pytest.raises(KeyError):
        requires("see-everything")
    with pytest.raises(KeyError):
        may(AnonymousUser(), "see-everything")


def test_a_guarded_view_names_the_right_that_is_missing():
    view = requires("sign")(lambda request: HttpResponse("signed"))
    request = RequestFactory().post("/papers/")
    request.user = Person(username="x", role="counter")
    with pytest.raises(PermissionDenied, match="sign certificates"):
        view(request)
    request.user = Person(username="x", role="signer")
    assert view(request).content == b"signed"
