"""A unit, a bottle in date, a check that is good."""

import pytest

from flueproof.shop.records.loans.gas_check import check_on_gas
from flueproof.shop.records.loans.pool import add_unit
from flueproof.shop.records.models import Analyzer, Owner
from shop.cylinders import make_cylinder


@pytest.fixture
def unit(people, shop):
    own = Owner.objects.create(name="Harrow Lane (invented)")
    kept = Analyzer.objects.create(owner=own, make="Orrin", model="Orrin 5", serial="L5-00101")
    return add_unit(kept, "Loan 1", ["probe", "hose"], "", people["counter"])


@pytest.fixture
def bottle(db):
    return make_cylinder("CYL-0007")


@pytest.fixture
def good(unit, bottle, now):
    return check_on_gas(unit, "cyl 0007", {"o2": "0.0", "co": "500"}, now)


@pytest.fixture
def low(unit, bottle, now):
    return check_on_gas(unit, bottle.code, {"o2": "0.0", "co": "430 430"}, now)
