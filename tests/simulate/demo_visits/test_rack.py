import pytest

from flueproof.analyzer.profile_reader import shipped_profile, shipped_profile_names
from flueproof.simulate.demo_visits.rack import demo_world, record_head, references_named
from flueproof.simulate.errors import StepError


def test_every_name_in_the_demo_says_that_it_is_invented():
    world = demo_world()
    names = [world["shop"]["name"], *world["technicians"].values()]
    names += [owner["name"] for owner in world["owners"].values()]
    names += [analyzer[key] for analyzer in world["analyzers"].values() for key in ("make", "model")]
    names += [reference["supplier"] for reference in world["references"].values() if "supplier" in reference]
    assert all(name.endswith("(invented)") for name in names)


def test_there_is_an_analyzer_for_every_shipped_profile():
    assert set(demo_world()["analyzers"]) == set(shipped_profile_names())


def test_a_reference_that_the_rack_does_not_have_is_refused():
    with pytest.raises(StepError, match="cyl-co-500"):
        references_named(["cyl-co-5000"])


def test_a_changed_head_does_not_change_the_rack():
    order = {"service": "verify"}
    received = {"date": "2026-10-01"}
    profile = shipped_profile("two-cell-residential")
    head = record_head(profile, job="J", number=1, received=received, order=order)
    head["references"]["cyl-co-500"]["components"]["co"]["value"] = 1.0
    head["analyzer"]["cells"].clear()
    again = record_head(profile, job="J", number=1, received=received, order=order)
    assert again["references"]["cyl-co-500"]["components"]["co"]["value"] == 502.0
    assert [cell["gas"] for cell in again["analyzer"]["cells"]] == ["o2", "co"]
