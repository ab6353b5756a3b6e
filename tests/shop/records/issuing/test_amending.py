"""Amended papers: new ones that name the old."""

import json

import pytest

from flueproof.shop.records.issuing.amending import amend_paper
from flueproof.shop.records.issuing.differences import what_changed
from flueproof.shop.records.issuing.on_file import differences_on_file, in_words, take_over
from flueproof.shop.records.issuing.refused import SigningRefusedError
from flueproof.shop.records.issuing.verifying import verify_paper
from flueproof.shop.records.models import Paper, PaperMoment, Reference, Webhook, WebhookDelivery
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.visits.judged import judged
from flueproof.shop.records.visits.projection import record_tree
from shop.loaded import last_hash

WHY = "The hose was kinked at one point"


@pytest.fixture
def amended(people, now, shop):
    """Return a function paper -> the amended paper, from the record as it stands."""
    return lambda paper, why=WHY: amend_paper(paper, people["signer"], why, last_hash(paper.visit), now, shop)


def strike(visit, kind, people, now):
    steps = record_tree(visit)["steps"]
    step = next(step for step in steps if step["kind"] == kind)
    add_step(visit, {"kind": "strike", "strikes": step["id"], "why": "hose kinked"}, people["technician"], now)
    return step


def test_results_that_changed_are_said_point_by_point(visit_of, signed, amended, people, now):
    visit = visit_of("healthy")
    old = signed(visit)
    step = strike(visit, "pressure", people, now)
    again = {key: value for key, value in step.items() if key not in {"id", "at", "by"}}
    add_step(visit, again, people["technician"], now)
    new = amended(old)
    cover = json.loads(bytes(new.files.get(name="issue.json").blob.content))
    assert cover["changed"][:2] == [f"Step {step['id']} (pressure) was struck out: hose kinked.", "Added: pressure."]
    assert any(text.startswith("New among the results: Draft") for text in cover["changed"])
    assert any(text.startswith("No longer among the results: Draft") for text in cover["changed"])
    assert (new.number, new.amends, new.record_hash) == ("FP-2026-00002", old, last_hash(visit))


def test_a_certificate_that_cannot_be_upheld_is_replaced_by_a_report(visit_of, signed, amended, people, now):
    visit = visit_of("healthy")
    old = signed(visit)
    strike(visit, "test-gas", people, now)
    new = amended(old)
    assert (new.kind, new.number, new.outcome) == ("bench-report", "BR-2026-00001", "incomplete")
    changed = json.loads(bytes(new.files.get(name="issue.json").blob.content))["changed"]
    assert "Outcome: was ready to sign, is incomplete." in changed


def test_the_old_paper_stays_byte_for_byte_and_keeps_who_replaced_it(visit_of, signed, amended, people, now):
    old = signed(visit_of("healthy"))
    before = {row.name: bytes(row.blob.content) for row in old.files.all()}
    new = amended(old)
    old = Paper.objects.get(pk=old.pk)
    assert {row.name: bytes(row.blob.content) for row in old.files.all()} == before
    assert old.amended_by == new
    assert PaperMoment.objects.get(paper=old).why == "FP-2026-00002 takes its place"
    assert all(one.agrees for one in verify_paper(old, people["signer"], now))
    assert all(one.agrees for one in verify_paper(new, people["signer"], now))


def test_a_chain_of_amendments_goes_on_from_the_newest(visit_of, signed, amended):
    first = signed(visit_of("healthy"))
    second = amended(first)
    third = amended(second, "The reason of the first was not enough")
    assert third.amends == second
    with pytest.raises(SigningRefusedError, match="already amended by FP-2026-00002"):
        amended(first, "once more")


def test_the_job_stays_where_it_is_and_its_life_says_so(visit_of, signed, amended):
    visit = visit_of("healthy")
    amended(signed(visit))
    visit.job.refresh_from_db()
    assert visit.job.state == "to-return"
    assert visit.job.moments.get(what="paper amended").text == "FP-2026-00001 is replaced by FP-2026-00002"


def test_other_programs_are_told_with_the_reason(visit_of, signed, amended):
    old = signed(visit_of("healthy"))
    Webhook.objects.create(url="https://books.example/hook", secret="", events=["paper-amended"])
    amended(old)
    data = json.loads(WebhookDelivery.objects.get().body)["data"]
    assert (data["amends"], data["why"]) == ("FP-2026-00001", WHY)


@pytest.mark.parametrize("why", ["", "  \n"])
def test_without_a_reason_nothing_is_issued(visit_of, signed, amended, why):
    old = signed(visit_of("healthy"))
    with pytest.raises(SigningRefusedError, match="Say why"):
        amended(old, why)
    assert Paper.objects.count() == 1


def test_who_may_not_amend(visit_of, signed, people, now, shop):
    old = signed(visit_of("healthy"))
    with pytest.raises(SigningRefusedError, match="role"):
        amend_paper(old, people["technician"], WHY, last_hash(old.visit), now, shop)


def test_a_withdrawn_cylinder_carries_no_amended_paper_either(visit_of, signed, amended):
    old = signed(visit_of("healthy"))
    Reference.objects.create(code="cyl-co-500", kind="test-gas", title="CO", content={}, state="withdrawn")
    with pytest.raises(SigningRefusedError, match="no reason given"):
        amended(old)


class TestTakingOverFromTheFiles:
    def test_a_corrected_name_goes_into_the_record_by_adding(self, visit_of, signed, amended, people, now, shop):
        visit = visit_of("healthy")
        old = signed(visit)
        owner = visit.job.owner
        owner.name = "Tidewater Heating and Sons (invented)"
        owner.save()
        visit.job.refresh_from_db()
        fresh = type(visit).objects.get(pk=visit.pk)
        said = differences_on_file(fresh, record_tree(fresh), shop)
        assert said[0].startswith("Owner: Tidewater Heating (invented) in the record, Tidewater Heating and Sons")
        assert take_over(fresh, people["signer"], now, shop)
        assert not take_over(fresh, people["signer"], now, shop)
        new = amended(old)
        assert json.loads(new.record)["owner"]["name"] == "Tidewater Heating and Sons (invented)"
        assert json.loads(new.record)["analyzer"]["cells"] == json.loads(old.record)["analyzer"]["cells"]
        changed = json.loads(bytes(new.files.get(name="issue.json").blob.content))["changed"]
        assert any(text.startswith("Owner, name: was Tidewater Heating (invented)") for text in changed)

    def test_a_record_that_agrees_with_the_files_shows_nothing(self, visit_of, shop):
        visit = visit_of("healthy")
        said = [line for line in differences_on_file(visit, record_tree(visit), shop) if "ddress" not in line]
        assert said == []

    @pytest.mark.parametrize(
        ("value", "said"),
        [
            ({"wanted": True, "months": 6, "rule": "end-of-month"}, "after 6 months, to the end of the month"),
            ({"wanted": False, "months": 12, "rule": "day"}, "none"),
            ({"co": []}, "the owner's own"),
            (True, "yes"),
            ([], "nothing"),
            (["probe", "hose"], "probe, hose"),
            (None, "nothing"),
        ],
    )
    def test_values_in_words(self, value, said):
        assert in_words(value) == said


def test_many_changes_are_counted_not_listed_endlessly(visit_of, signed, people, now):
    visit = visit_of("healthy")
    old = signed(visit)
    for number in range(12):
        add_step(visit, {"kind": "note", "text": f"remark {number}"}, people["technician"], now)
    stands = judged(visit)
    said = what_changed(old, stands.tree, stands.judgement)
    assert len(said) == 8
    assert said[-1] == "And 5 more; the whole record is kept with the paper."
