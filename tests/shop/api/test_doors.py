"""Every operation of the OpenAPI document: nothing without a token, nothing without its right, errors in one shape."""

import datetime as dt

import pytest
from django.core.cache import cache

from flueproof.shop.api.token_door import REQUESTS_A_MINUTE
from flueproof.shop.records.people.rights import RIGHTS

from .conftest import Caller
from .operations import operations, right_of, view_name

NAMES = [f"{method} {path}" for method, path, _ in operations()]


def is_an_error(answer):
    return set(answer.json()["error"]) == {"message", "remedy", "where"} and answer.json()["error"]["message"]


def test_the_document_lists_what_the_shop_offers():
    rooms = {path.split("/")[1] for _, path, _ in operations()}
    assert rooms >= {"owners", "analyzers", "jobs", "visits", "papers", "references", "search"}
    assert len(operations()) == len(set(NAMES)) >= 20


@pytest.mark.parametrize(("method", "path", "operation"), operations(), ids=NAMES)
def test_without_a_token_nothing_is_answered(stranger, shop, method, path, operation):
    answer = stranger(method, path, {} if method != "get" else None)
    assert answer.status_code == 401
    assert is_an_error(answer)
    assert answer["WWW-Authenticate"] == "Bearer"


@pytest.mark.parametrize(("method", "path", "operation"), operations(), ids=NAMES)
def test_with_a_token_of_all_other_rights_nothing_is_answered(people, caller_with, shop, method, path, operation):
    right = right_of(view_name(operation))
    others = [name for name in RIGHTS if name != right]
    answer = caller_with(*others)(method, path, {} if method != "get" else None)
    assert answer.status_code == 403
    assert is_an_error(answer)
    assert right in answer.json()["error"]["remedy"]


@pytest.mark.parametrize(("method", "path", "operation"), operations(), ids=NAMES)
def test_with_its_right_alone_an_operation_lets_in(people, caller_with, shop, method, path, operation):
    answer = caller_with(right_of(view_name(operation)))(method, path, {} if method != "get" else None)
    assert answer.status_code in {200, 404, 422}
    assert answer.status_code == 200 or is_an_error(answer)


@pytest.mark.parametrize(("method", "path", "operation"), operations(), ids=NAMES)
def test_every_operation_declares_its_answers_its_door_and_what_it_does(method, path, operation):
    declared = set(operation["responses"])
    assert declared >= {401, 403, 404, 409, 422, 429}
    assert declared & {200, 201}
    assert operation["security"] == [{"BearerToken": []}]
    assert operation["description"].endswith(".")


@pytest.mark.parametrize("text", ["", "fp_wrong", "x" * 500, "ä"])
def test_a_wrong_token_opens_nothing(people, shop, text):
    answer = Caller(text)("get", "/jobs")
    assert answer.status_code == 401
    assert is_an_error(answer)


def test_many_requests_in_a_minute_are_slowed_down(call, monkeypatch):
    monkeypatch.setattr("flueproof.shop.api.token_door.REQUESTS_A_MINUTE", 3)
    monkeypatch.setattr("time.time", lambda: dt.datetime(2026, 11, 25, 14, 0, 20, tzinfo=dt.UTC).timestamp())
    cache.clear()
    answers = [call("get", "/token").status_code for _ in range(5)]
    assert answers == [200, 200, 200, 429, 429]
    slowed = call("get", "/token")
    assert is_an_error(slowed)
    assert slowed["Retry-After"] == "40"
    assert REQUESTS_A_MINUTE >= 60


def test_another_address_is_answered_in_the_one_shape(call, shop):
    for path in ("/nothing", "/jobs/a/b/c", ""):
        answer = call("get", path)
        assert answer.status_code == 404
        assert is_an_error(answer)


def test_a_body_that_is_no_json_is_answered_in_the_one_shape(call):
    answer = call.client.post(
        "/api/v1/owners", data="{", content_type="application/json", headers={"Authorization": f"Bearer {call.text}"}
    )
    assert answer.status_code == 422
    assert is_an_error(answer)


def test_our_own_fault_is_answered_in_the_one_shape_and_told_to_the_logs(call, monkeypatch, caplog):
    def breaks(text):
        raise ZeroDivisionError

    monkeypatch.setattr("flueproof.shop.api.routes.search.search", breaks)
    call.client.raise_request_exception = False
    answer = call("get", "/search?q=a")
    assert answer.status_code == 500
    assert is_an_error(answer)
    assert "ZeroDivisionError" in caplog.text


def test_the_description_is_for_people_who_work_here(client_of, shop):
    assert client_of("counter").get("/api/v1/openapi.json").status_code == 200
    assert client_of("counter").get("/api/v1/docs").status_code == 200
    for path in ("/api/v1/openapi.json", "/api/v1/docs"):
        assert client_of("owner").get(path).status_code == 403
        assert client_of("stranger").get(path).status_code == 302
