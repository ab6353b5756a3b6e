"""The exported JSON Schema against an independent validator (jsonschema, draft 2020-12)."""

import jsonschema
import pytest

from flueproof.bench.record.schema import record_schema


@pytest.fixture(scope="module")
def validator():
    schema = record_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def objects_in(node):
    if isinstance(node, dict):
        yield node
        for below in node.values():
            yield from objects_in(below)
    elif isinstance(node, list):
        for below in node:
            yield from objects_in(below)


def test_the_good_record_fits_the_schema(validator, good):
    assert validator.is_valid(good)


def test_every_object_of_the_schema_refuses_unknown_keys():
    models = [node for node in record_schema()["$defs"].values() if "properties" in node]
    assert len(models) > 30
    assert all(node["additionalProperties"] is False for node in models)


def test_every_key_of_the_schema_says_what_it_is():
    models = [record_schema(), *record_schema()["$defs"].values()]
    keys = [(model["title"], key, value) for model in models for key, value in model.get("properties", {}).items()]
    assert [(title, key) for title, key, value in keys if not value.get("description")] == []


@pytest.mark.parametrize(
    "breaking",
    [
        lambda tree: tree.update(colour="grey"),
        lambda tree: tree["steps"][2].update(colour="grey"),
        lambda tree: tree["steps"][2]["readings"][0].update(colour="grey"),
        lambda tree: tree["references"]["mano-1"].update(colour="grey"),
        lambda tree: tree["steps"][2].update(kind="testgas"),
        lambda tree: tree["steps"][2].update(at="2026-11-03T09:40:00"),
        lambda tree: tree["steps"][2]["readings"][0].update(shown=[]),
        lambda tree: tree["steps"][2]["readings"][0].update(shown=[None]),
        lambda tree: tree["steps"][2]["readings"][0].update(unit="PPM"),
        lambda tree: tree["steps"][2]["readings"][0].update(step=0),
        lambda tree: tree["steps"][6]["readings"][0].update(unit="ppm"),
        lambda tree: tree["references"]["cyl-co-500"]["components"]["co"].update(stated_accuracy_pct=2),
        lambda tree: tree["references"]["cyl-co-500"]["components"]["co"].pop("k"),
        lambda tree: tree["references"]["cyl-co-500"]["components"].update(xe={}),
        lambda tree: tree["references"]["cyl-co-500"].update(components={}),
        lambda tree: tree["order"].update(limits="standard"),
        lambda tree: tree["received"].update(date="11/02/2026"),
        lambda tree: tree.update(steps=[]),
        lambda tree: tree.pop("job"),
    ],
)
def test_what_a_schema_can_say_it_refuses(breaking, validator, good):
    breaking(good)
    assert not validator.is_valid(good)


def test_null_fits_wherever_the_format_allows_it(validator, good):
    good["steps"][2]["gas_on_s"] = None
    good["references"]["cyl-co-500"]["components"]["co"]["stated_accuracy_pct"] = None
    assert validator.is_valid(good)
