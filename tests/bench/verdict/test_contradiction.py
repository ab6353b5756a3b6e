"""Repeats that exclude each other are not averaged, and the record says which to look at (own rule)."""

import pytest

from flueproof.bench.verdict.contradiction import CODE

CO = "cyl-co-500"


@pytest.fixture(name="twice")
def _twice(start, judge):
    """A visit with the bottle put on twice; a change edits what the second showed."""

    def twice(*shown):
        visit = start()
        visit.test_gas(CO, "tip")
        visit.test_gas(CO, "tip")
        tree = visit.record()
        gases = [step for step in tree["steps"] if step["kind"] == "test-gas"]
        for step, co in zip(gases, shown, strict=True):
            for reading in step["readings"]:
                if reading["channel"] == "co":
                    reading["shown"] = [co] * len(reading["shown"])
                    reading.pop("t_s", None)
                    reading["shown"] = reading["shown"][-2:]
            step.pop("gas_on_s", None)
        return tree, [step["id"] for step in gases]

    return twice


@pytest.fixture(name="judged")
def _judged(read):
    from flueproof.bench.judge.judge import judge_record

    return lambda tree: judge_record(*read(tree))


def co_points(judgement):
    return [point for point in judgement.points if point.channel == "co"]


def test_a_false_reading_and_a_right_one_are_never_averaged(twice, judged):
    tree, (first, last) = twice(0, 498)
    found = judged(tree)
    assert sorted(round(point.settled) for point in co_points(found)) == [0, 498]
    assert not any(point.counts for point in co_points(found))
    note = next(one for one in found.notes if one.code == CODE)
    assert note.blocks
    assert f"step {first} 0 ppm" in note.text
    assert f"step {last} 498 ppm" in note.text


def test_no_part_and_no_leak_is_blamed_on_them(twice, judged):
    found = judged(twice(0, 498)[0])
    assert found.gas_path.get("leak") != "probe"
    assert {action.do for action in found.as_found.actions}.isdisjoint({"replace-cell", "mend-path", "adjust"})


def test_repeats_that_differ_as_repeats_do_are_pooled(twice, judged):
    found = judged(twice(497, 501)[0])
    assert [(round(point.settled), point.repeats) for point in co_points(found)] == [(499, 2)]
    assert not any(note.code == CODE for note in found.notes)


def test_once_the_wrong_one_is_struck_the_other_is_judged(twice, judged):
    tree, (first, _) = twice(0, 498)
    last = tree["steps"][-1]
    tree["steps"].append(
        {"id": "s99", "at": last["at"], "by": last["by"], "kind": "strike", "strikes": first, "why": "no gas yet"}
    )
    found = judged(tree)
    assert [(round(point.settled), point.counts) for point in co_points(found)] == [(498, True)]
