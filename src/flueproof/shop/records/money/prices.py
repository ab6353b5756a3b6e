"""The price list: what stands on it for a job, and lines for a quote taken from it."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from django.db.models import Q

from flueproof.shop.records.models import Job, PriceItem
from flueproof.shop.records.money.quoting import Wanted


def price_list(*, also_old: bool = False) -> list[PriceItem]:
    """Return the lines of the list by kind and words; also_old: those that are not in use any more too."""
    rows = PriceItem.objects.all() if also_old else PriceItem.objects.filter(in_use=True)
    return list(rows.order_by("kind", "words", "id"))


def for_job(job: Job) -> list[PriceItem]:
    """Return the lines that fit a job's analyzer, those for its service first."""
    model = job.analyzer.model
    rows = PriceItem.objects.filter(in_use=True).filter(Q(model="") | Q(model__iexact=model))
    return sorted(rows, key=lambda one: (one.service != job.service, one.kind, one.words, one.pk))


def suggested(job: Job) -> list[PriceItem]:
    """Return what a first quote begins with: the service that was ordered, the line of the very model before others."""
    fitting = [one for one in for_job(job) if one.service == job.service and one.kind == "service"]
    own = [one for one in fitting if one.model]
    return (own or fitting)[:1]


def as_lines(items: Iterable[PriceItem]) -> list[Wanted]:
    """Return one line of a quote for each, at the price of today."""
    return [Wanted(one.words, Decimal(one.price), Decimal(1), one) for one in items]
