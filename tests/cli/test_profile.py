"""`flueproof profile`: check a shop's own file, list and show the shipped ones."""

import json

import pytest

from flueproof.analyzer.profile_reader import shipped_profile_names


def test_every_shipped_profile_is_listed_shown_and_its_own_file_passes_the_check(run, tmp_path):
    listed = run("profile", "list").stdout
    told = json.loads(run("profile", "list", "--json").stdout)
    assert [one["name"] for one in told["profiles"]] == list(shipped_profile_names())
    for name in shipped_profile_names():
        assert name in listed
        file = tmp_path / f"{name}.toml"
        file.write_bytes(run("profile", "show", name, "--toml").stdout_bytes)
        checked = run("profile", "check", file, "--json")
        assert checked.exit_code == 0
        assert json.loads(checked.stdout) == json.loads(run("profile", "show", name, "--json").stdout)


def test_a_summary_names_channels_limits_points_and_sources(run):
    text = run("profile", "show", "two-cell-residential").stdout
    assert "larger of 5 ppm or 10 % of reference" in text
    assert "co-mid (required)" in text
    assert "Limit source: OIML R 144-1:2013, 4.3.2" in text


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("hold_s = 120", "hold_s = -1", "hold_s"),
        ("hold_s = 120", "hold = 120", "hold_s"),
        ('unit = "ppm"', 'unit = "pmm"', "channels.co.unit"),
        ("step = 0.1", "step = 'fine'", "channels.o2.step"),
        ('format = "flueproof-profile/1"', "format = 1 1", "-"),
    ],
)
def test_an_error_names_the_key(run, tmp_path, old, new, key):
    text = run("profile", "show", "two-cell-residential", "--toml").stdout
    assert old in text
    file = tmp_path / "mine.toml"
    file.write_text(text.replace(old, new), encoding="utf-8")
    error = json.loads(run("profile", "check", file, "--json").stdout)["error"]
    assert error["path"] == key
    said = run("profile", "check", file)
    assert said.exit_code == 2
    assert len(said.stderr.splitlines()) == 1
    assert "mine.toml" in said.stderr


def test_an_unknown_name_is_answered_with_those_there_are(run):
    result = run("profile", "show", "three-cell")
    assert result.exit_code == 2
    assert "three-cell-light-commercial" in result.stderr


def test_a_missing_file_is_bad_input(run, tmp_path):
    assert run("profile", "check", tmp_path / "none.toml").exit_code == 2
