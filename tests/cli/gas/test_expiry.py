"""`flueproof gas expiry`: whether a gas may be used on a day."""

import json

import pytest

GAS = ("--component", "co=502ppm U=5 k=2", "--certified", "2026-02-01", "--expires", "2028-02-01")


@pytest.mark.parametrize(
    ("day", "state", "usable"),
    [
        ("2026-06-01", "in-date", True),
        ("2028-02-01", "expires-soon", True),
        ("2028-02-02", "expired", False),
        ("2025-06-01", "not-yet", False),
    ],
)
def test_the_last_good_day_is_the_expiry_date_itself(run, day, state, usable):
    (only,) = json.loads(run("gas", "expiry", *GAS, "--on", day, "--json").stdout)["bottles"]
    assert (only["state"], only["usable"]) == (state, usable)
    word = "may be used" if usable else "may NOT be used"
    assert word in run("gas", "expiry", *GAS, "--on", day).stdout


def test_all_bottles_of_a_record_are_told_with_their_cautions(run, demo_files):
    told = json.loads(
        run("gas", "expiry", "--record", demo_files["expired-cylinder"], "--on", "2026-11-03", "--json").stdout
    )
    assert told["on"] == "2026-11-03"
    assert [one["state"] for one in told["bottles"]] == ["expired"]
    assert any("Carbon monoxide" in caution for caution in told["bottles"][0]["cautions"])


def test_today_is_taken_where_no_day_is_given(run):
    from datetime import date

    told = json.loads(run("gas", "expiry", *GAS, "--json").stdout)
    assert abs((date.fromisoformat(told["on"]) - date.today()).days) <= 1  # noqa: DTZ011


def test_dates_the_wrong_way_round_are_bad_input(run):
    words = ("--component", "co=5ppm U=1", "--certified", "2027-01-01", "--expires", "2026-01-01")
    result = run("gas", "expiry", *words)
    assert result.exit_code == 2
    assert "before it was certified" in result.stderr
