"""The OpenAPI document: sound in itself, complete, and what is answered fits what it declares."""

import json
import re

import jsonschema
import pytest

from flueproof.shop.api.doors import api

from .operations import METHODS, operations

DOCUMENT = json.loads(json.dumps(api.get_openapi_schema()))


def references(part):
    """Return every $ref below a part of the document."""
    if isinstance(part, dict):
        own = [part["$ref"]] if "$ref" in part else []
        return own + [one for value in part.values() for one in references(value)]
    return [one for value in part for one in references(value)] if isinstance(part, list) else []


def schema_at(reference):
    found = DOCUMENT
    for name in reference.removeprefix("#/").split("/"):
        found = found[name]
    return found


def declared(method, path, status):
    """Return the schema of an answer in JSON, with the document's components beside it."""
    for template, item in DOCUMENT["paths"].items():
        pattern = re.sub(r"\\\{\w+\\\}", "[^/]+", re.escape(template))
        if re.fullmatch(pattern, "/api/v1" + path.partition("?")[0]) and method in item:
            content = item[method]["responses"][str(status)]["content"]
            return {**content["application/json"]["schema"], "components": DOCUMENT["components"]}
    raise AssertionError(path)


def fits_its_schema(method, path, answer):
    """Return True when an answer is one that the document declares. Raises: jsonschema.ValidationError."""
    checker = jsonschema.Draft202012Validator(
        declared(method, path, answer.status_code), format_checker=jsonschema.FormatChecker()
    )
    checker.validate(answer.json())
    return True


def test_it_names_itself_and_its_version():
    assert DOCUMENT["openapi"].startswith("3.1")
    assert DOCUMENT["info"]["title"]
    assert DOCUMENT["info"]["version"] == "1"


def test_every_reference_inside_leads_somewhere():
    found = references(DOCUMENT)
    assert len(found) > 50
    for one in found:
        assert one.startswith("#/components/schemas/")
        assert schema_at(one)


@pytest.mark.parametrize("name", sorted(DOCUMENT["components"]["schemas"]))
def test_every_shape_is_a_sound_json_schema_and_says_what_it_is(name):
    shape = DOCUMENT["components"]["schemas"][name]
    jsonschema.Draft202012Validator.check_schema(shape)
    assert shape["description"].endswith(".")


def test_every_operation_has_a_name_of_its_own_and_its_parameters_in_the_path():
    names = []
    for path, item in DOCUMENT["paths"].items():
        for method in set(item) & set(METHODS):
            operation = item[method]
            names.append(operation["operationId"])
            inside = {one["name"] for one in operation.get("parameters", []) if one["in"] == "path"}
            assert inside == set(re.findall(r"\{(\w+)\}", path))
            assert all(one["required"] for one in operation.get("parameters", []) if one["in"] == "path")
            for one in operation.get("parameters", []):
                jsonschema.Draft202012Validator.check_schema(one["schema"])
            tells_more = method in {"post", "patch"} and not path.endswith(("/confirm", "/send"))
            assert ("requestBody" in operation) == tells_more
    assert len(names) == len(set(names))


def test_every_operation_of_the_program_is_in_the_document():
    there = {
        (method.lower(), operation.view_func.__name__)
        for _, router in api._routers
        for view in router.path_operations.values()
        for operation in view.operations
        for method in operation.methods
    }
    assert len(there) == len(operations()) >= 23


def test_the_door_is_declared():
    schemes = DOCUMENT["components"]["securitySchemes"]
    assert schemes["BearerToken"] == {"type": "http", "scheme": "bearer"}


@pytest.mark.parametrize(
    "path",
    [
        "/token",
        "/owners",
        "/analyzers",
        "/jobs",
        "/papers",
        "/references",
        "/search?q=a",
        "/requests",
        "/quotes",
        "/jobs/J-2026-00042/promise",
    ],
)
def test_what_is_answered_fits_what_is_declared(call, job, path):
    answer = call("get", path)
    assert answer.status_code == 200
    assert fits_its_schema("get", path, answer)


@pytest.mark.parametrize(
    "path", ["/owners/999999", "/jobs/J-1900-1", "/papers/none", "/owners?limit=0", "/jobs?after=x"]
)
def test_what_is_refused_fits_what_is_declared(call, path):
    answer = call("get", path)
    assert answer.status_code in {404, 422}
    assert fits_its_schema("get", path, answer)


def test_a_wrong_answer_does_not_fit(call, job):
    answer = call("get", "/jobs")
    body = answer.json()
    body["rows"][0]["number"] = 42
    answer.json = lambda: body
    with pytest.raises(jsonschema.ValidationError):
        fits_its_schema("get", "/jobs", answer)
