import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.papers.content.outcome import named
from flueproof.papers.content.untested import lacking, not_tested_lines, untested_name


@pytest.fixture(scope="module")
def shipped():
    return shipped_profile("two-cell-residential")


def test_a_limited_title_names_what_was_needed_and_not_what_is_optional(shipped):
    optional = next(point.title for point in shipped.points if not point.required)
    needed = next(point.title for point in shipped.points if point.required and point.channel == "draft")
    on_probe = next(point.title for point in shipped.points if point.required and point.of == "probe")
    probe = "Probe assembly and its gas path"
    assert lacking((probe, on_probe, optional), shipped) == (probe,)
    assert lacking((needed, on_probe, optional), shipped) == (needed, on_probe)
    assert lacking((needed, optional), None) == (needed, optional)


def test_a_title_reads_as_a_phrase():
    assert named(("Probe assembly and its gas path",)) == "probe assembly and its gas path"
    assert named(("Stack temperature, one hot point", "CO high")) == "stack temperature one hot point and CO high"


def test_an_untested_path_never_reads_as_a_tight_one(shipped):
    path = next(point.title for point in shipped.points if point.kind == "plug-test")
    assert untested_name(path, shipped) == "Tightness of the gas path"
    assert lacking((path,), shipped) == ("Tightness of the gas path",)
    assert not_tested_lines((path,), shipped) == ["Tightness of the gas path."]
    assert untested_name("Other", None) == "Other"


def test_what_is_needed_comes_first_and_a_question_ends_as_one(shipped):
    optional = next(point.title for point in shipped.points if not point.required)
    lines = not_tested_lines((optional, "Probe assembly"), shipped)
    assert lines[0] == "Probe assembly."
    assert lines[1].startswith("Optional in this profile: ")
    assert lines[1].endswith("?" if ": is " in optional else ".")
