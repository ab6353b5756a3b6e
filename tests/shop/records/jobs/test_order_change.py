"""An order changed after the bench began: the record gets a new head, once; what was signed stays."""

from django.utils import timezone

from flueproof.shop.records.jobs.order_change import carry_into_record
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
