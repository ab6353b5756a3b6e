"""What a quote begins with."""

from decimal import Decimal

from flueproof.shop.records.models import PriceItem
from flueproof.shop.records.money.prices import as_lines, for_job, price_list, suggested


def test_a_quote_begins_with_the_service_that_was_ordered(items, job):
    assert suggested(job) == [items["VA-1"]]
    job.service = "repair"
    assert suggested(job) == []


def test_the_line_of_the_very_model_counts_before_the_one_for_all(items, job):
    own = PriceItem.objects.create(
        code="VA-O5", words="for an Orrin 5", price=Decimal(150), service="verify-adjust", model="orrin 5"
    )
    other = PriceItem.objects.create(code="VA-X", words="for another", price=Decimal(1), model="Other 1")
    assert suggested(job) == [own]
    assert other not in for_job(job)


def test_lines_that_are_not_in_use_are_offered_no_more(items, job):
    items["CELL-CO"].in_use = False
    items["CELL-CO"].save()
    assert for_job(job) == [items["VA-1"]]
    assert len(price_list(also_old=True)) == 2
    assert [one.price for one in as_lines(price_list())] == [Decimal("165.00")]
