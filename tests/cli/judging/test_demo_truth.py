"""A demo verdict beside its truth: every way to differ is seen."""

import json

import pytest

from flueproof.cli.judging.demo_truth import compared
from flueproof.simulate.demo import demo_records


@pytest.fixture
def leak():
    return next(one for one in demo_records() if one.name == "leak-in-probe")


def said(**changes):
    actions = [
        {"do": "mend-path", "where": "probe", "channel": None},
        {"do": "check-path", "where": None, "channel": None},
    ]
    judgement = {
        "as_found": {"outcome": "work-needed", "actions": actions},
        "as_left": None,
        "gas_path": {"leak": "probe"},
    }
    return json.loads(json.dumps({**judgement, **changes}))


def test_what_the_truth_called_for_differs_in_nothing(leak):
    row = compared(leak, said())
    assert row.differences == ()
    assert row.outcome == "work-needed"
    assert row.first_action == "mend-path probe"


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"as_found": {"outcome": "incomplete", "actions": said()["as_found"]["actions"]}}, "outcome as found"),
        ({"as_found": None}, "no verdict"),
        ({"as_left": {"outcome": "ready-to-sign"}}, "outcome as left"),
        ({"gas_path": {"leak": "cannot-tell"}}, "leak"),
        ({"as_found": {"outcome": "work-needed", "actions": said()["as_found"]["actions"][::-1]}}, "actions"),
        ({"as_found": {"outcome": "work-needed", "actions": said()["as_found"]["actions"][:1]}}, "actions"),
        (
            {"as_found": {"outcome": "work-needed", "actions": [{"do": "mend-path", "where": "instrument"}] * 2}},
            "mend-path instrument",
        ),
    ],
)
def test_each_difference_is_named(leak, changes, word):
    assert any(word in difference for difference in compared(leak, said(**changes)).differences)
