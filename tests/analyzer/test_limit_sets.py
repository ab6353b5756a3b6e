"""Published limit sets."""

import pytest

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.limit_sets import (
    profile_with_set,
    read_limit_set,
    shipped_limit_set,
    shipped_limit_set_names,
)
from flueproof.analyzer.profile_reader import shipped_profile


@pytest.mark.parametrize("name", shipped_limit_set_names())
def test_every_line_names_its_source_and_only_memory_is_marked_as_example(name):
    limit_set = shipped_limit_set(name)
    assert limit_set.name == name
    assert limit_set.example == (limit_set.provenance == "from memory")
    assert all(line.source for lines in limit_set.limits.values() for line in lines)


def test_a_chosen_set_replaces_the_limits_of_its_channels_and_leaves_the_rest():
    profile = shipped_profile("two-cell-residential")
    chosen = profile_with_set(profile, shipped_limit_set("metas-2004"))
    assert chosen.channels["co"].limit_at(100.0, "as-left").value == 12.0
    assert chosen.channels["co"].limit_at(500.0, "as-left", reading=520.0).value == pytest.approx(52.0)
    assert chosen.channels["stack"] == profile.channels["stack"]
    assert "no" not in chosen.channels


def test_figures_from_memory_cannot_be_judged_by():
    with pytest.raises(ProfileError, match="enter the figures of your own copy"):
        profile_with_set(shipped_profile("two-cell-residential"), shipped_limit_set("en50379-2-example"))


def test_an_unknown_set_and_an_unknown_key_are_refused():
    with pytest.raises(ProfileError, match="oiml-r144-2013"):
        shipped_limit_set("en-something")
    with pytest.raises(ProfileError, match=r"own\.toml: limits: is missing"):
        read_limit_set(b'format = "flueproof-limits/1"', where="own.toml")
