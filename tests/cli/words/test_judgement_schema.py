"""The schema of the judgement follows its dataclasses."""

import dataclasses

from flueproof.bench import judgement as room
from flueproof.cli.words.judgement_schema import judgement_schema


def test_every_field_of_every_part_is_there_and_required():
    schema = judgement_schema()
    parts = {"Judgement": schema, **schema["$defs"]}
    expected = {
        "Judgement",
        "Verdict",
        "Action",
        "PointJudgement",
        "BudgetLine",
        "CheckResult",
        "Note",
        "DisplayedFigures",
    }
    assert set(parts) == expected
    for name, part in parts.items():
        fields = [field.name for field in dataclasses.fields(getattr(room, name))]
        assert sorted(part["properties"]) == sorted(fields)
        assert sorted(part["required"]) == sorted(fields)


def test_numbers_may_be_null_because_infinity_is_written_so():
    schema = judgement_schema()
    assert schema["$defs"]["PointJudgement"]["properties"]["tur"]["type"] == ["number", "null"]
    assert schema["properties"]["format"]["const"] == room.FORMAT
