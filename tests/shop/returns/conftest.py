"""A job that is to go back, its packed box, a quote, a loan unit; a page that is asked by name."""

from decimal import Decimal

import pytest
from django.urls import reverse

from flueproof.shop.records.loans.pool import add_unit
from flueproof.shop.records.models import Analyzer, Job, Owner, PriceItem
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.returning.pack_out import Packed, close_box, keep_packing, packing_of
from flueproof.shop.records.returning.packing import YES
from shop.at_the_bench import fill_rack


@pytest.fixture
def leaving(job, shop):
    job.state = "to-return"
    job.save()
    return job


@pytest.fixture
def packed(leaving, people, now):
    """The job with its box closed."""
    found = packing_of(leaving)
    answers = {line.check.name: (YES, "") for line in found.lines if not line.check.says}
    keep_packing(leaving, Packed(answers, [part.name for part in found.parts]), people["counter"])
    close_box(leaving, people["counter"], now)
    return leaving


@pytest.fixture
def item(db):
    return PriceItem.objects.create(code="VA-1", words="verification", price=Decimal("165.00"), service="verify-adjust")


@pytest.fixture
def quote(shop, job, people, now):
    return write_quote(job, [Wanted("CO cell", Decimal("185.50"))], "It is weak.", people["counter"], now)


@pytest.fixture
def unit(people, shop, db):
    fill_rack()
    own = Owner.objects.create(name="Harrow Lane (invented)")
    kept = Analyzer.objects.create(owner=own, make="Orrin", model="Orrin 5", serial="L5-00101")
    return add_unit(kept, "Loan 1", ["probe", "hose"], "", people["counter"])


@pytest.fixture
def page():
    """Return a function (client, name, *args, **fields): GET without fields, POST with them."""

    def ask(client, name, /, *args, **fields):
        address = reverse(f"returns:{name}", args=args)
        return client.post(address, fields) if fields else client.get(address)

    return ask


@pytest.fixture
def state_of():
    return lambda job: Job.objects.get(pk=job.pk).state
