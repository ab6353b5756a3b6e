"""Given up: it goes back with words on a tag, and the tag comes off only with a new certificate."""

import datetime as dt
from decimal import Decimal

import pytest

from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quotes import decline, send_quote
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.returning.unrepaired import (
    WHY,
    return_unrepaired,
    suggested_why,
    tag_words,
    take_back_unrepaired,
)
from shop.loaded import last_hash, load_visit


@pytest.mark.parametrize("why", [code for code, _ in WHY])
def test_it_goes_back_with_its_tag_once(job, people, now, why):
    for _ in range(2):
        return_unrepaired(job, why, "board dead", "Does not switch on.", people["counter"], now)
    row = Job.objects.get(pk=job.pk)
    assert row.state == "to-return"
    assert tag_words(row) == "Does not switch on."
    assert row.moments.filter(what="given up: back unrepaired").count() == 1


def test_the_tag_has_words_and_a_reason_of_the_list(job, people, now):
    with pytest.raises(MoveRefusedError, match="stands on the tag"):
        return_unrepaired(job, "beyond-our-access", "", " ", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="why"):
        return_unrepaired(job, "laziness", "", "x", people["counter"], now)
    assert Job.objects.get(pk=job.pk).state == "arrived"


def test_a_box_that_is_not_here_cannot_go_back(job, people, now):
    job.state = "requested"
    job.save()
    with pytest.raises(MoveRefusedError, match="cannot go back"):
        return_unrepaired(job, "owner-asked", "", "x", people["counter"], now)


def test_the_records_speak_for_a_reason_where_they_do(job, people, now, shop):
    assert suggested_why(job) == ""
    quote = write_quote(job, [Wanted("pump", Decimal("96.00"))], "", people["counter"], now)
    send_quote(quote, people["counter"], now)
    decline(quote, "Ada Quay", "", now, people["counter"])
    assert suggested_why(job) == "quote-declined"


def test_the_tag_comes_off_with_a_certificate_signed_after_it(people, now, shop):
    visit = load_visit("co-cell-replaced", people["technician"], now)
    return_unrepaired(visit.job, "not-worth-repair", "", "CO reads low.", people["counter"], now)
    with pytest.raises(MoveRefusedError, match="certificate"):
        take_back_unrepaired(visit.job, "mended after all", people["counter"], now)
    assert tag_words(visit.job)
    sign_visit(visit, people["signer"], last_hash(visit), now + dt.timedelta(hours=1), shop)
    for _ in range(2):
        take_back_unrepaired(visit.job, "mended after all", people["counter"], now)
    assert tag_words(visit.job) == ""
