"""Every page as every role and as a stranger: it asks for its right, or stands on the short list of open doors."""

import hashlib
import sys
import types

import pytest
from django.urls import include, path, reverse

from flueproof.shop.records.models import ApiToken
from flueproof.shop.records.people.rights import RIGHTS, ROLES

from .api.conftest import Caller
from .api.operations import operations, right_of, view_name
from .cylinders import make_cylinder
from .every_page import doors, nameless

OPEN = {"frame:login", "frame:logout"}  # a stranger gets in; signing out needs nobody
FOR_EVERYBODY_SIGNED_IN = {
    "frame:code",
    "frame:me",
    "frame:password",
    "frame:second-factor",
    "frame:second-factor-off",
    "frame:second-factor-codes",
}
# Owners without an account get in here: each is throttled and shows nothing that its own link does not open.
PUBLIC: set[str] = {
    "mail:answer",
    "promises:feed",
    "requests:begin",
    "requests:confirm",
    "requests:give-up",
    "requests:mail-again",
    "requests:resume",
    "requests:send",
    "requests:sent",
    "requests:slip",
    "requests:step",
}
NAMES = [f"{method} {path}" for method, path, _ in operations()]
BY_TOKEN = {"capture:hello", "capture:readings"}
GUARDED = [door for door in doors() if door.right]
WITHOUT_A_PAGE = {"see-history"}  # history is a part of pages, tested below


def asked(client, door):
    """Ask a door the way it wants to be asked: GET, or POST where GET is refused."""
    answer = client.get(door.address)
    return client.post(door.address) if answer.status_code == 405 else answer


def taken(client, door, *methods):
    """Ask a door by each method (GET and POST where none is named) and return what it did not refuse as a method."""
    answers = [getattr(client, method)(door.address) for method in methods or ("get", "post")]
    return [answer for answer in answers if answer.status_code != 405]


def test_every_address_asks_for_a_right_or_stands_on_a_short_list():
    without = {door.name for door in doors() if not door.right}
    assert without == OPEN | FOR_EVERYBODY_SIGNED_IN | BY_TOKEN | PUBLIC
    assert [pattern.callback.__name__ for pattern in nameless()] == ["nothing_here"]
    assert len(GUARDED) > 110


@pytest.mark.parametrize("door", GUARDED, ids=lambda door: door.name)
def test_a_page_lets_in_the_roles_with_its_right_and_no_other(client_of, shop, door):
    """By each way in which it may be asked: a page with a form refuses the form as it refuses the page."""
    for role in ROLES:
        answers = taken(client_of(role), door)
        assert answers
        for answer in answers:
            to_papers = answer.status_code == 302 and answer["Location"] == reverse("papers:list")
            refused = answer.status_code == 403 or (role == "owner" and door.name == "counter:jobs" and to_papers)
            assert refused == (role not in RIGHTS[door.right]), (role, answer.status_code)
            assert "/sign-in" not in answer.get("Location", "")


@pytest.mark.parametrize("door", GUARDED, ids=lambda door: door.name)
def test_a_stranger_is_sent_to_sign_in_whatever_is_asked(client_of, shop, door):
    answers = taken(client_of("stranger"), door, "get", "head", "post", "put", "patch", "delete", "options")
    assert answers
    assert {answer.status_code for answer in answers} == {302}
    assert all(answer["Location"].startswith(reverse("frame:login")) for answer in answers)


def test_a_new_address_without_a_right_is_seen(monkeypatch, settings):
    """What the first test of this file rests on: the walk finds what was added to the url conf, named or not."""
    added = types.ModuleType("added_urls")
    added.urlpatterns = [
        path("", include("flueproof.shop.urls")),
        path("new-page", lambda request: None, name="new-page"),
        path("new/<int:pk>/<slug:word>", lambda request, pk, word: None, name="new-row"),
        path("nameless", lambda request: None),
    ]
    monkeypatch.setitem(sys.modules, "added_urls", added)
    before = {door.name for door in doors() if not door.right}
    settings.ROOT_URLCONF = "added_urls"
    assert {door.name for door in doors() if not door.right} - before == {"new-page", "new-row"}
    assert len(nameless()) == 2


@pytest.mark.parametrize("name", sorted(FOR_EVERYBODY_SIGNED_IN))
def test_a_persons_own_pages_send_a_stranger_to_sign_in_and_let_everybody_in(client_of, shop, name):
    (door,) = [door for door in doors() if door.name == name]
    assert asked(client_of("stranger"), door)["Location"].startswith(reverse("frame:login"))
    for role in ROLES:
        answer = asked(client_of(role), door)
        assert answer.status_code in {200, 302}
        assert "/sign-in?" not in answer.get("Location", "")


@pytest.mark.parametrize("name", sorted(BY_TOKEN))
@pytest.mark.parametrize("role", [*ROLES, "stranger"])
def test_the_doors_of_the_agent_open_to_no_cookie(client_of, shop, name, role):
    (door,) = [door for door in doors() if door.name == name]
    assert asked(client_of(role), door).status_code == 401


@pytest.mark.parametrize(("method", "path", "operation"), operations(), ids=NAMES)
def test_an_operation_of_the_api_lets_in_tokens_of_the_roles_with_its_right(people, shop, method, path, operation):
    right = right_of(view_name(operation))
    for role in ROLES:
        text = f"fp_{role}"
        digest = hashlib.sha256(text.encode()).hexdigest()
        ApiToken(name=role, rights=[*RIGHTS], person=people[role], sha256=digest).save()
        answer = Caller(text)(method, path, {} if method != "get" else None)
        assert (answer.status_code == 403) == (role not in RIGHTS[right]), (role, answer.content)
        assert answer.status_code != 401
    assert {Caller(text)(method, path, {} if method != "get" else None).status_code for text in (None, "fp_none")} == {
        401
    }


def test_every_right_guards_a_page_or_an_operation():
    by_api = {right_of(view_name(operation)) for _, _, operation in operations()}
    assert RIGHTS.keys() - by_api - {door.right for door in GUARDED} <= WITHOUT_A_PAGE


def test_the_root_of_the_api_and_what_is_not_there_say_nothing(client, shop):
    assert client.get("/api/v1/").status_code == 404
    assert client.get("/api/nothing").status_code == 404


@pytest.mark.parametrize("role", ROLES)
def test_the_history_of_a_bottle_is_shown_to_the_roles_with_the_right(client_of, shop, role):
    bottle = make_cylinder("CYL-0007")
    answer = client_of(role).get(reverse("gas_rack:reference", args=[bottle.code]))
    assert (b'class="history"' in answer.content) == (role in RIGHTS["see-history"])
