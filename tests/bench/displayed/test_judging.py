"""Computed figures in a bench record: put together, recomputed, told in the judgement, and never a reason to sign."""

import copy

import pytest

NATURAL_GAS = [
    ("O2", "%", 0.1, 5.3),
    ("CO", "ppm", 1, 112),
    ("T stack", "degC", 1, 187),
    ("T air", "degC", 1, 23),
    ("CO2", "%", 0.1, 8.9),
    ("Excess air", "%", 1, 30),
    ("Efficiency net", "%", 0.1, 91.6),
    ("CO air-free", "ppm", 1, 150),
]
"""An invented display that follows the German formula on natural gas (US blend), rounded."""


def reading(name, unit, step, *shown):
    return {"channel": name, "unit": unit, "step": step, "shown": list(shown)}


def with_display(record, *looks, fuel="natural gas", phase="as-found"):
    """The record with settings and `displayed` steps at its end, one per list of readings."""
    tree = copy.deepcopy(record)
    last = tree["steps"][-1]
    if fuel is not None:
        tree["steps"].append({"id": "fuel", "at": last["at"], "by": "tester", "kind": "settings",
                              "as_found": {"fuel": fuel}})  # fmt: skip
    for number, readings in enumerate(looks):
        tree["steps"].append({"id": f"d{number}", "at": last["at"], "by": "tester", "kind": "displayed",
                              "phase": phase, "readings": [reading(*one) for one in readings]})  # fmt: skip
    return tree


def changed(**values):
    """The natural-gas display with other values, by name."""
    return [(name, unit, step, values.get(name.replace(" ", "_"), value)) for name, unit, step, value in NATURAL_GAS]


@pytest.fixture(scope="module")
def record():
    import importlib.util
    from pathlib import Path

    where = Path(__file__).resolve().parents[1] / "conftest.py"
    spec = importlib.util.spec_from_file_location("bench_visits", where)
    visits = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(visits)
    return visits.whole_visit().record()


def test_a_record_without_computed_figures_has_no_finding(record, judge):
    assert judge(record).displayed == ()


def test_what_the_display_follows_stands_in_the_judgement(record, judge):
    (found,) = judge(with_display(record, NATURAL_GAS)).displayed
    assert (found.kind, found.phase, found.fuel, found.steps) == ("as-set", "as-found", "natural gas", ("d0",))
    assert found.as_if_fuel == "natural-gas-us"
    assert found.follows["efficiency"][0] == "efficiency_german"
    assert found.follows["excess_air"] == ["excess_air"]
    assert found.unexplained == ()


def test_one_figure_a_step_is_the_same_look(record, judge):
    """As the bench page writes them: a step for each figure."""
    whole = judge(with_display(record, NATURAL_GAS)).displayed[0]
    (parts,) = judge(with_display(record, *[[one] for one in NATURAL_GAS])).displayed
    assert len(parts.steps) == len(NATURAL_GAS)
    assert (parts.kind, parts.follows) == (whole.kind, whole.follows)


def test_a_figure_that_comes_twice_begins_another_look(record, judge):
    found = judge(with_display(record, NATURAL_GAS, changed(O2=6.0))).displayed
    assert [one.steps for one in found] == [("d0",), ("d1",)]
    assert found[1].kind != "as-set"


def test_degrees_fahrenheit_are_understood(record, judge):
    warm = [("stack", "degF", 1, 369), ("air", "degF", 1, 73)]
    rows = [one for one in NATURAL_GAS if not one[0].startswith("T ")] + warm
    (found,) = judge(with_display(record, rows)).displayed
    assert found.kind == "as-set"


def notes(judgement):
    return [(note.text, note.blocks) for note in judgement.notes if note.code == "display-does-not-fit"]


def test_a_wrong_fuel_is_a_note_that_blocks_nothing(record, judge):
    judged = judge(with_display(record, NATURAL_GAS, fuel="Oil No. 2"))
    assert judged.displayed[0].kind == "fuel"
    ((text, blocks),) = notes(judged)
    assert "does not fit fuel oil" in text
    assert blocks is False


def test_a_missing_air_sensor_is_named(record, judge):
    judged = judge(with_display(record, changed(Efficiency_net=90.5)))
    assert (judged.displayed[0].kind, judged.displayed[0].as_if_air_c) == ("air-zero", 0.0)
    assert "air sensor" in notes(judged)[0][0]


def test_an_efficiency_called_net_that_is_gross_is_named(record, judge):
    judged = judge(with_display(record, changed(Efficiency_net=82.6)))
    assert judged.displayed[0].kind == "basis"
    assert "called net" in notes(judged)[0][0]


def test_without_a_fuel_the_display_says_which_it_fits_and_no_note_is_made(record, judge):
    judged = judge(with_display(record, NATURAL_GAS, fuel=None))
    assert judged.displayed[0].kind == "fuel"
    assert judged.displayed[0].fuel is None
    assert notes(judged) == []


def test_a_fuel_that_is_not_known_is_said(record, judge):
    judged = judge(with_display(record, NATURAL_GAS, fuel="USER 3"))
    assert judged.displayed[0].text[0].startswith("The fuel that is set, 'USER 3', is none known here.")


def test_names_and_units_that_mean_nothing_here_are_left_aside_and_said(record, judge):
    rows = [*NATURAL_GAS, ("Wobble", "furlong", 1, 7), ("NOx", "ppm", 1, 40)]
    (found,) = judge(with_display(record, rows)).displayed
    assert found.kind == "as-set"
    assert "Wobble in furlong; NOx in ppm" in found.text[-1]


@pytest.mark.parametrize("rows", [[("Efficiency", "%", 0.1, 91.6)], [("Efficiency", "%", 0.1, "----")]])
def test_a_figure_alone_cannot_be_recomputed_and_that_is_all(record, judge, rows):
    judged = judge(with_display(record, rows))
    assert judged.displayed[0].kind == "cannot"
    assert notes(judged) == []


def test_a_display_in_room_air_cannot_be_recomputed(record, judge):
    assert judge(with_display(record, changed(O2=20.9))).displayed[0].kind == "cannot"


def test_a_fuel_read_off_the_display_counts(record, judge):
    rows = [("fuel", "1", 1, "natural gas"), *NATURAL_GAS]
    assert judge(with_display(record, rows, fuel=None)).displayed[0].kind == "as-set"


def test_a_reading_that_moves_between_looks_gives_room(record, judge):
    still = judge(with_display(record, changed(Excess_air=36))).displayed[0]
    assert still.kind == "none"
    tree = with_display(record, changed(Excess_air=36))
    tree["steps"][-1]["readings"][0]["shown"] = [5.9, 5.3]
    assert "excess_air" in judge(tree).displayed[0].follows


@pytest.mark.parametrize("rows", [NATURAL_GAS, changed(Efficiency_net=60.0), changed(CO2=4.0)])
def test_no_statement_point_or_outcome_moves_with_what_the_display_computes(record, judge, rows):
    """The one rule: it is information, it never makes conform and never not conform."""
    bare, told = judge(record), judge(with_display(record, rows))
    assert told.points == bare.points
    assert told.checks == bare.checks
    assert told.as_found == bare.as_found
    assert told.as_left == bare.as_left


def test_the_judgement_with_a_finding_is_plain_json(record, judge):
    plain = judge(with_display(record, NATURAL_GAS)).to_json_dict()
    assert plain["displayed"][0]["follows"]["excess_air"] == ["excess_air"]
    assert isinstance(plain["displayed"][0]["text"], list)
