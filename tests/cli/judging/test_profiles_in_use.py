"""A record is judged by the profile it names and by no other."""

import pytest

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.errors import RecordError
from flueproof.bench.record.reader import record_from_json
from flueproof.cli.judging.profiles_in_use import profile_of, profiles_given


@pytest.fixture
def own(run):
    """Return a shop's own profile as a file's name and bytes: the shipped one under another name."""
    text = run("profile", "show", "two-cell-residential", "--toml").stdout
    return "own.toml", text.replace('name = "two-cell-residential"', 'name = "own"').encode()


def named(record, **profile):
    tree = record("healthy")
    tree["analyzer"]["profile"] |= profile
    return record_from_json(tree)


def test_without_a_file_the_shipped_one_is_used(record):
    assert profile_of(named(record), {}) is shipped_profile("two-cell-residential")


def test_a_given_one_is_used_by_its_name(record, own):
    given = profiles_given([own])
    assert profile_of(named(record, name="own"), given) is given["own"]
    assert profile_of(named(record, name="own", sha256=given["own"].sha256), given).name == "own"


def test_a_given_one_is_never_passed_over_in_silence(record, own):
    with pytest.raises(RecordError) as caught:
        profile_of(named(record), profiles_given([own]))
    assert caught.value.path == "$.analyzer.profile.name"
    assert "'two-cell-residential'" in caught.value.message
    assert "'own'" in caught.value.message


def test_a_changed_file_is_refused_by_its_hash(record, own):
    name, data = own
    old = profiles_given([own])["own"].sha256
    changed = profiles_given([(name, data.replace(b"hold_s = 120", b"hold_s = 90"))])
    with pytest.raises(RecordError) as caught:
        profile_of(named(record, name="own", sha256=old), changed)
    assert old in caught.value.message
    assert changed["own"].sha256 in caught.value.message


def test_one_name_in_two_files_is_refused(own):
    with pytest.raises(ProfileError, match="two files"):
        profiles_given([own, own])
