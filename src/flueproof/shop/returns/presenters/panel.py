"""The part of a job's page about quotes, the way back and what is not simple."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.jobs.moving import states_after
from flueproof.shop.records.loans.pool import at_risk, offered
from flueproof.shop.records.models import Job, Quote
from flueproof.shop.records.money.quotes import passes
from flueproof.shop.records.money.quoting import is_late, total_in_words
from flueproof.shop.records.people.rights import may
from flueproof.shop.records.returning.comebacks import first_stay_of
from flueproof.shop.records.returning.leaving import Obstacle, obstacles
from flueproof.shop.records.returning.pack_out import packing_of
from flueproof.shop.records.returning.paying import waits_for_money
from flueproof.shop.records.returning.sent_on import out_now, results_of_others
from flueproof.shop.records.returning.shipping import under_way
from flueproof.shop.records.returning.unclaimed import unclaimed_as
from flueproof.shop.records.returning.unrepaired import tag_words
from flueproof.shop.records.returning.whereabouts import on_the_list


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """A quote in a list: its state in words, what it comes to, whether its day is over."""

    quote: Quote
    total: str
    state: str
    late: bool


def quote_line(quote: Quote) -> QuoteLine:
    """Return a quote ready for a list."""
    now = timezone.now()
    late = quote.state == "sent" and is_late(quote, now)
    return QuoteLine(quote, total_in_words(quote), quote.get_state_display(), late)


def panel(job: Job, person: Any) -> dict[str, Any]:
    """Return the context of the panel: only what this job has or needs now is there."""
    now, today, shop = timezone.now(), timezone.localdate(), the_shop()
    leaving = job.state in {"to-return", "shipped"}
    standing = packing_of(job) if leaving else None
    against: list[Obstacle] = obstacles(job) if job.state == "to-return" else []
    return {
        "job": job,
        "quotes": [quote_line(one) for one in job.quotes.prefetch_related("lines")],
        "passes": any(one.state == "draft" and passes(one) for one in job.quotes.all()),
        "may_quote": job.is_open and may(person, "quote"),
        "may_ship": may(person, "ship"),
        "may_change": may(person, "change-jobs"),
        "may_report": may(person, "change-owners"),
        "may_lend": may(person, "lend"),
        "packing": standing,
        "missing": standing.missing() if standing is not None else [],
        "against": [one for one in against if one.code != "pack-out"],
        "money": waits_for_money(job) and job.is_open,
        "may_hold_money": job.is_open and job.state != "shipped" and not waits_for_money(job),
        "way": under_way(job),
        "shipments": list(job.shipments.select_related("sent_by").order_by("-id")),
        "out": out_now(job),
        "results": results_of_others(job),
        "may_send_on": "sent-on" in states_after(job.state),
        "tag": tag_words(job),
        "may_give_up": job.is_open and ("to-return" in states_after(job.state) or job.state == "to-return"),
        "first_stay": first_stay_of(job) if job.is_open else None,
        "unclaimed": unclaimed_as(job, now, shop),
        "risk": at_risk(job, today),
        "units": offered(job, today),
        "loans": list(job.loans.select_related("unit")),
        "plates": on_the_list(job.analyzer.serial, but=job.analyzer_id) if job.is_open else [],
    }
