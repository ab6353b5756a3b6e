"""`flueproof settle`: a trace or typed looks from a file."""

import json
import math

import pytest

TYPED = "time_s,co_ppm,o2_pct\n0,0,20.9\n30,402,1.2\n60,468,0.1\n90,481,0.1\n120,486,0.1\n"


@pytest.fixture
def trace(tmp_path):
    def written(text):
        file = tmp_path / "trace.csv"
        file.write_text(text, encoding="utf-8")
        return file

    return written


def test_typed_looks_give_a_value_beyond_the_last_look_with_its_uncertainty(run, trace):
    result = run("settle", trace(TYPED), "--column", "co_ppm", "--hold", "120", "--json")
    assert result.exit_code == 0
    told = json.loads(result.stdout)
    assert list(told)[:5] == ["value", "u", "t90_s", "settled", "more_s"]
    assert told["value"] > told["displayed_at_hold"] == 486
    assert told["low"] < told["value"] < told["high"]
    assert told["unit"] == "ppm"


def test_a_curve_of_known_end_is_found(run, trace):
    rows = "\n".join(
        f"{t};{str(round(500 * (1 - math.exp(-max(t - 4, 0) / 8)), 1)).replace('.', ',')}" for t in range(181)
    )
    told = json.loads(run("settle", trace(f"Time [s];CO [ppm]\n{rows}\n"), "--gas-on", "0", "--json").stdout)
    assert told["value"] == pytest.approx(500.0, abs=3 * told["u"] + 0.1)
    assert told["t90_s"] == pytest.approx(4 + 8 * math.log(10), abs=1.5)  # first order: tau ln 10, from memory
    assert told["settled"] is True
    assert told["more_s"] == 0


def test_words_say_how_long_to_wait(run, trace):
    text = run("settle", trace(TYPED), "--column", "co_ppm").stdout
    assert "Not settled, needs about" in text
    assert "T90" in text


@pytest.mark.parametrize(
    ("content", "words", "said"),
    [
        (TYPED, (), "'co', 'o2'"),
        (TYPED, ("--column", "no"), "is not in the file"),
        (TYPED.replace("468", "4x8"), ("--column", "co_ppm"), "row 4"),
        (TYPED, ("--column", "co_ppm", "--step", "-1"), "above 0"),
        (TYPED, ("--column", "co_ppm", "--gas-on", "500"), "trace ends"),
        ("", (), "empty"),
    ],
)
def test_what_cannot_be_settled_is_one_line_and_exit_code_2(run, trace, content, words, said):
    file = trace(content)
    result = run("settle", file, *words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert len(result.stderr.splitlines()) == 1
    error = json.loads(run("settle", file, *words, "--json").stdout)["error"]
    assert set(error) == {"path", "message", "remedy"}
    assert error["remedy"]


def test_a_missing_file_is_named(run, tmp_path):
    result = run("settle", tmp_path / "none.csv")
    assert result.exit_code == 2
    assert "none.csv" in result.stderr


def test_a_file_that_never_ends_is_refused(run, tmp_path, monkeypatch):
    monkeypatch.setattr("flueproof.cli.words.files.LARGEST_TRACE", 64)
    file = tmp_path / "endless.csv"
    file.write_bytes(b"0" * 65)
    result = run("settle", file)
    assert result.exit_code == 2
    assert "holds more than" in result.stderr


@pytest.mark.parametrize("hold", ["-5", "nan"])
def test_a_hold_before_the_gas_is_refused(run, trace, hold):
    result = run("settle", trace(TYPED), "--column", "co_ppm", "--hold", hold)
    assert result.exit_code == 2
    assert "--hold" in result.stderr
