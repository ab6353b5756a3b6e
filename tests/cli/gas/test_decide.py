"""`flueproof gas decide`: what a bottle can decide."""

import json

import pytest


@pytest.fixture
def rows(run):
    def told(*words):
        result = run("gas", "decide", *words, "--json")
        assert result.exit_code == 0, result.stdout
        return json.loads(result.stdout)["bottles"][0]["decides"]

    return told


def test_a_five_percent_bottle_never_says_conform_against_five_percent_under_the_whole_u(rows):
    """Issue 2, section 2: a 5 % bottle (k = 2) can never say conform against 5 % under w = U."""
    told = rows("--component", "co=400ppm U=20 k=2", "--rule", "guarded-U")
    left = next(row for row in told if row["channel"] == "co" and row["phase"] == "as-left")
    assert left["limit"] == pytest.approx(20.0)
    assert left["share_pct"] >= 100.0
    assert left["can_conform"] is False
    assert left["largest_conform"] is None


def test_a_better_bottle_decides_more(rows):
    poor, good = (rows("--component", f"co=400ppm U={u} k=2", "--rule", "guarded-U") for u in (12, 4))
    pairs = [(one, other) for one, other in zip(poor, good, strict=True) if one["channel"] == "co"]
    assert len(pairs) == 2
    assert all(one["largest_conform"] < other["largest_conform"] for one, other in pairs)


def test_the_guard_bands_are_those_of_the_rules(rows):
    told = rows("--component", "co=400ppm U=8 k=2", "--other-u", "0", "--r", "0.25")
    guards = {row["rule"]: row["guard"] for row in told if row["channel"] == "co" and row["phase"] == "as-found"}
    assert guards["simple"] == 0.0
    assert guards["guarded-U"] == pytest.approx(8.0)
    assert guards["guarded-rU"] == pytest.approx(2.0)
    assert guards["risk-2"] == 0.0  # TUR 5: 1.04 - exp(0.38 ln 5 - 0.54) < 0 (Dobbert 2008)


def test_each_channel_that_measures_the_gas_is_told(rows):
    told = rows("--component", "co=2000ppm U=20", "--profile", "infrared-co2-co-high-range", "--rule", "simple")
    assert {row["channel"] for row in told} >= {"o2", "co_high"}


def test_the_table_says_never_and_ends_with_the_cautions(run):
    text = run("gas", "decide", "--component", "co=400ppm U=20 k=2").stdout
    assert "never" in text
    assert "Carbon monoxide, 400 ppm" in text
    assert text.splitlines()[-1].strip() == "Local codes and licensed practice come first."


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("--component", "co=5"),
        ("--component", "so2=50ppm U=1", "--balance", "air"),
        ("--component", "co=400ppm U=5", "--profile", "none"),
        ("--component", "co=400ppm U=5", "--other-u", "-1"),
        ("--component", "co=400ppm U=5", "--rule", "guarded-rU", "--r", "-1"),
    ],
)
def test_what_cannot_be_is_one_line_and_exit_code_2(run, words):
    result = run("gas", "decide", *words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.splitlines()) == 1
