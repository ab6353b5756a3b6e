"""`flueproof gas contents`: litres and tests left."""

import json

import pytest

CYLINDER = ("--pressure-kpa", "3450", "--volume-l", "1.7", "--temperature", "15")


def told(run, *words):
    result = run("gas", "contents", *words, "--json")
    assert result.exit_code == 0, result.stdout
    return json.loads(result.stdout)


def test_psi_and_kpa_degc_and_degf_say_the_same(run):
    one = told(run, *CYLINDER)
    psi = str(3450 / 6.894757293168361)  # NIST SP 811, appendix B.8: 1 psi = 6.894757 kPa
    other = told(run, "--pressure-psi", psi, "--volume-l", "1.7", "--temperature-f", "59")
    assert other["litres_left"] == pytest.approx(one["litres_left"], rel=1e-9)
    assert other["tests_left"] == one["tests_left"]


def test_near_an_ideal_gas_by_boyle_and_gay_lussac(run):
    ideal = 1.7 * (3450 + 101.325) / 101.325 * (273.15 + 21.1) / (273.15 + 15)  # p V / T, from memory
    assert told(run, *CYLINDER)["litres_left"] == pytest.approx(ideal, rel=0.01)


def test_nominal_content_and_fill_pressure_give_the_size(run):
    full = told(run, "--pressure-kpa", "6895", "--nominal-l", "103", "--fill-kpa", "6895")
    assert full["litres_left"] == pytest.approx(103.0, rel=1e-6)


def test_tests_left_follow_flow_and_time(run):
    one = told(run, *CYLINDER, "--flow-l-min", "2", "--minutes", "3")
    assert one["litres_per_test"] == 6.0
    assert one["tests_left"] == int(one["usable_litres"] // 6.0)
    assert told(run, *CYLINDER, "--minimum-kpa", "3450")["tests_left"] == 0


def test_words_end_with_the_cautions(run):
    text = run("gas", "contents", *CYLINDER).stdout
    assert "Usable:" in text
    assert text.splitlines()[-1] == "Local codes and licensed practice come first."


@pytest.mark.parametrize(
    "words",
    [
        ("--volume-l", "1.7"),
        ("--pressure-kpa", "5", "--pressure-psi", "5", "--volume-l", "1"),
        ("--pressure-kpa", "5"),
        ("--pressure-kpa", "5", "--volume-l", "1", "--nominal-l", "5", "--fill-kpa", "5"),
        ("--pressure-kpa", "5", "--nominal-l", "5"),
        ("--pressure-kpa", "5", "--volume-l", "1", "--temperature", "1", "--temperature-f", "1"),
        ("--pressure-kpa", "-5", "--volume-l", "1"),
        ("--pressure-kpa", "nan", "--volume-l", "1"),
        ("--pressure-kpa", "5", "--volume-l", "1", "--temperature", "500"),
        ("--pressure-kpa", "5", "--volume-l", "1", "--minutes", "0"),
    ],
)
def test_what_cannot_be_is_one_line_and_exit_code_2(run, words):
    result = run("gas", "contents", *words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.splitlines()) == 1
