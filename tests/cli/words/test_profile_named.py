"""A profile by the name of a shipped one or by its file."""

import pytest

from flueproof.analyzer.errors import ProfileError
from flueproof.cli.words.faults import Refusal
from flueproof.cli.words.profile_named import profile_named


def test_a_shipped_name_and_a_file_both_serve(run, tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(run("profile", "show", "two-cell-residential", "--toml").stdout, encoding="utf-8")
    assert profile_named("two-cell-residential").sha256 == profile_named(str(file)).sha256


def test_what_is_neither_is_refused_with_the_names_there_are():
    with pytest.raises(Refusal) as caught:
        profile_named("two-cell")
    assert "two-cell-residential" in caught.value.fault.remedy


def test_a_file_that_is_no_profile_names_its_key(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text("name = 1", encoding="utf-8")
    with pytest.raises(ProfileError) as caught:
        profile_named(str(file))
    assert caught.value.key == "format"
