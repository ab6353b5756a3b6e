"""The case vignettes: complete, in known words, as many as promised, and in keeping with physics."""

from collections import Counter
from dataclasses import replace

import pytest

from faults.vignette import ROWS, Vignette, about, allows, always_never, problems_of, read_one, vignettes
from flueproof.analyzer.profile_reader import shipped_profile

CASES = vignettes()


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_a_case_is_complete_and_uses_known_words(case):
    assert problems_of(case) == []


def test_every_case_has_its_own_name_and_words():
    assert len({case.id for case in CASES}) == len({case.complaint for case in CASES}) == len(CASES) == 60


def test_each_file_holds_as_many_as_promised():
    promised = {name: count for name, count in about()["groups"].items() if name != "source"}
    assert Counter(case.group for case in CASES) == promised


def test_double_faults_are_in_their_own_file():
    assert {case.group for case in CASES if len(case.causes) == 2} == {"two_at_once"}


def test_every_row_of_the_sheet_is_used_or_left_out_with_a_reason():
    used = {row for case in CASES for row in case.rows}
    left_out = about()["rows_left_out"]
    assert used | set(left_out["rows"]) == ROWS
    assert not used & set(left_out["rows"])
    assert left_out["why"]


def test_every_fact_bench_value_and_profile_is_used_by_some_case():
    assert {fact for case in CASES for fact in (*case.facts, *case.unknown)} == set(about()["facts"])
    assert {name for case in CASES for name in case.bench} >= set(about()["bench"]) - {"draft_points", "draft_zero_pa"}
    assert {case.profile for case in CASES} == {
        "two-cell-residential",
        "three-cell-light-commercial",
        "hydrogen-compensated-co",
        "infrared-co2-co-high-range",
    }


def test_cells_named_are_cells_of_the_profile():
    for case in CASES:
        assert set(case.cells) <= set(shipped_profile(case.profile).channels), case.id


def test_not_all_cases_are_plain():
    assert sum(bool(case.hard) for case in CASES) >= 25
    assert sum(case.phone != "first" for case in CASES) >= 15


def test_a_cell_is_never_forbidden_where_it_is_the_part():
    for case in CASES:
        assert not ({"o2-cell", "co-cell"} & set(case.parts) and "new-cell" in case.never), case.id


def test_nobody_is_told_to_measure_on_or_to_open_the_case_where_air_or_a_cell_is_at_fault():
    assert always_never() >= {"clear-the-appliance", "restart-trick", "span-over-leak", "open-the-case"}
    spent = [case for case in CASES if set(case.causes) & {"o2-cell-spent", "co-cell-weak", "probe-handle-cracked"}]
    assert spent
    assert all("measure-on" in case.never for case in spent)


def test_air_thins_oxygen_as_the_bench_says():
    """Dilution f lifts O2 by f (20.9 - O2): the formula is in the reference sheet on flue gas, section 5."""
    told = [case for case in CASES if {"o2_flue", "o2_flue_other"} <= set(case.facts) and "dilution_tip" in case.bench]
    assert len(told) >= 8
    for case in told:
        share, true = case.bench["dilution_tip"][0], case.facts["o2_flue_other"]
        zero = case.bench.get("o2_zero", (0.05,))[0]
        bent = case.bench["o2_mid_error"][0] if "bent" in case.id else 0.0
        expected = 20.9 - (1 - share) * (1 - zero / 20.9) * (20.9 - true)
        assert case.facts["o2_flue"] == pytest.approx(expected + bent, abs=0.25), case.id


def test_a_plug_is_answered_as_the_size_of_the_leak_lets_it():
    """Below one per cent of the flow a plugged pump stalls, above five it runs on (as the simulated gas path)."""
    for case in CASES:
        if "dilution_tip" not in case.bench or "plug_at_tip" not in case.facts:
            continue
        share = case.bench["dilution_tip"][0]
        word = "stalls" if share < 0.01 else "slows" if share < 0.05 else "runs-on"
        assert case.facts["plug_at_tip"] == word, case.id


class TestBadCases:
    """Each slip of the pen is told."""

    good = next(case for case in CASES if case.id == "seal-of-the-handle-joint")

    def said(self, **changes):
        return " ".join(problems_of(replace(self.good, **changes)))

    @pytest.mark.parametrize(
        ("changes", "told"),
        [
            ({"rows": (59,)}, "row 59"),
            ({"causes": ("gremlin",)}, "gremlin"),
            ({"causes": ()}, "no cause"),
            ({"facts": {"mood": "bad"}}, "mood"),
            ({"complaint": " "}, "no complaint"),
            ({"provenance": "S99"}, "S99"),
            ({"month": 13}, "month 13"),
            ({"cells": {}}, "age of the O2 cell"),
            ({"phone": "maybe"}, "phone"),
            ({"bench": {}}, "go together"),
            ({"bench": {"gain_co": 0.9}}, "gain_co"),
            ({"may": ("send-in",), "service": ""}, "without a service"),
            ({"may": ("pray",)}, "pray"),
            ({"parts": ("flux",)}, "flux"),
            ({"never": ("open-the-case",)}, "always"),
            ({"never": ("send-in",)}, "both right and harmful"),
            ({"unknown": ("o2_flue",)}, "both told and unknown"),
        ],
    )
    def test_it_is_said_in_words(self, changes, told):
        assert told in self.said(**changes)

    def test_a_field_too_many_is_refused(self):
        with pytest.raises(TypeError):
            read_one({"id": "x", "colour": "blue"}, "leaks")

    def test_a_value_outside_its_words_is_refused(self):
        assert not allows(["yes", "no"], "perhaps")
        assert not allows("list of: a, b", ("c",))
        assert not allows("shown [%]", "many")
        assert allows("shown [%], or", "----")


def test_a_case_is_of_its_type():
    assert isinstance(CASES[0], Vignette)
    assert CASES[0].ever_never > always_never()
