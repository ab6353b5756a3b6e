"""Every demo record fed through the services is judged exactly as its file is."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.judge import examine_record, judge_record
from flueproof.bench.next_test.proposing import next_test
from flueproof.bench.record.reader import record_from_json
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.plan import plan_of
from flueproof.shop.records.visits.projection import record_tree
from flueproof.simulate.demo import demo_records
from shop.at_the_bench import demo_named, fed, job_of

NAMES = [one.name for one in demo_records()]


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_record_is_judged_in_the_shop_as_in_its_file(name, owner, people, shop, now):
    demo = demo_named(name)
    visit = fed(demo, job_of(demo, owner, now), people["technician"], now, shop)
    tree = record_tree(visit)
    assert tree["steps"] == demo.record["steps"]
    ours = judged(visit).judgement.to_json_dict()
    file = judge_record(record_from_json(demo.record), shipped_profile(demo.profile_name)).to_json_dict()
    for one in (ours, file):
        one.pop("job")
    assert json.dumps(ours, sort_keys=True) == json.dumps(file, sort_keys=True)
    assert broken_links(visit) == []


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.sampled_from(NAMES), share=st.floats(0.0, 1.0))
def test_any_beginning_of_a_demo_record_can_be_shown(name, share, owner, people, shop, now, django_db_blocker):
    from django.db import transaction

    demo = demo_named(name)
    steps = round(share * len(demo.record["steps"]))
    with transaction.atomic():
        visit = fed(demo, job_of(demo, owner, now), people["technician"], now, shop, steps)
        found = judged(visit)
        lines = plan_of(found)
        assert found.proposal is not None or found.cannot
        assert {line.point.id for line in lines} == {point.id for point in found.profile.points}
        assert len(lines) == len(found.profile.points) * (2 if found.phase == "as-left" else 1)
        transaction.set_rollback(True)


@pytest.mark.parametrize("name", NAMES)
def test_the_next_test_is_the_same_whether_the_record_is_judged_anew_or_not(name):
    """Unused references of the rack change nothing in an examination, so it may be handed on."""
    demo = demo_named(name)
    profile = shipped_profile(demo.profile_name)
    spare = {f"spare-{key}": content for one in demo_records() for key, content in one.record["references"].items()}
    for steps in range(1, len(demo.record["steps"]) + 1, 3):
        tree = {**demo.record, "steps": demo.record["steps"][:steps]}
        more = record_from_json({**tree, "references": {**tree["references"], **spare}})
        seen = examine_record(record_from_json(tree), profile)
        assert next_test(more, profile, budget_l=20.0, seen=seen) == next_test(more, profile, budget_l=20.0)
