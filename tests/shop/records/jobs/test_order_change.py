"""An order changed after the bench began: the record gets a new head, once; what was signed stays."""

from django.utils import timezone

from flueproof.shop.records.jobs.order_change import carry_into_record, carry_owner, carry_plate
from flueproof.shop.records.visits.projection import record_tree
from shop.visit_fixtures import began, open_shop, rack, visit  # noqa: F401 -- fixtures


def test_the_record_takes_the_changed_order_once(visit, people, open_shop):  # noqa: F811
    job = visit.job
    job.service, job.condition = "verify", "wet"
    job.save()
    assert carry_into_record(job, open_shop, people["counter"], timezone.now())
    tree = record_tree(visit)
    assert (tree["order"]["service"], tree["received"]["condition"]) == ("verify", "wet")
    assert not carry_into_record(job, open_shop, people["counter"], timezone.now())


def test_what_did_not_change_adds_nothing(visit, people, open_shop):  # noqa: F811
    rows = visit.events.count()
    assert not carry_into_record(visit.job, open_shop, people["counter"], timezone.now())
    assert visit.events.count() == rows


def test_a_job_without_a_visit_or_gone_back_is_left_alone(job, visit, people, open_shop):  # noqa: F811
    row = visit.job
    row.service, row.state = "verify", "to-return"
    row.save()
    assert not carry_into_record(row, open_shop, people["counter"], timezone.now())
    assert record_tree(visit)["order"]["service"] == "verify-adjust"


def test_a_changed_name_and_agreement_go_into_the_open_record_only_where_they_differ(visit, people, open_shop):  # noqa: F811
    owner = visit.job.owner
    assert carry_owner(owner, open_shop, people["counter"], timezone.now()) == []
    owner.name, owner.due_rule = "Tidewater Heat (invented)", "month-end"
    owner.save()
    before = record_tree(visit)
    assert carry_owner(owner, open_shop, people["counter"], timezone.now()) == [visit.job.number]
    after = record_tree(visit)
    assert after["owner"]["name"] == "Tidewater Heat (invented)"
    assert after["order"] == {**before["order"], "due": {**before["order"]["due"], "rule": "end-of-month"}}


def test_a_corrected_plate_goes_in_and_a_firmware_that_is_not_known_any_more_goes_out(visit, people, open_shop):  # noqa: F811
    unit = visit.job.analyzer
    for firmware in ("2.1", ""):
        unit.firmware = firmware
        unit.save()
        assert carry_plate(unit, open_shop, people["counter"], timezone.now()) == [visit.job.number]
        assert record_tree(visit)["analyzer"].get("firmware", "") == firmware
    assert carry_plate(unit, open_shop, people["counter"], timezone.now()) == []


def test_a_job_that_went_back_keeps_the_name_it_went_with(visit, people, open_shop):  # noqa: F811
    job = visit.job
    job.state = "returned"
    job.save()
    job.owner.name = "Another (invented)"
    job.owner.save()
    assert carry_owner(job.owner, open_shop, people["counter"], timezone.now()) == []
