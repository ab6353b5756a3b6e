"""Visits ready to be signed, and the forms of the papers' pages."""

import pytest

from flueproof.shop.records.issuing.signing import sign_visit
from flueproof.shop.records.models import Paper
from shop.conftest import PASSWORD
from shop.loaded import last_hash, load_visit


@pytest.fixture
def visit_of(people, now, shop):
    """Return a function demo name -> visit, recorded by the technician."""
    return lambda name, **how: load_visit(name, people["technician"], now, **how)


@pytest.fixture
def paper_of(visit_of, people, now, shop):
    """Return a function demo name -> paper, signed by the signer."""

    def issued(name, **how):
        visit = visit_of(name, **how)
        paper = sign_visit(visit, people["signer"], last_hash(visit), now, shop)
        return Paper.objects.get(pk=paper.pk)

    return issued


@pytest.fixture
def signature():
    """Return a function visit -> the fields of a signature."""
    return lambda visit, **more: {"seen": last_hash(visit), "password": PASSWORD, **more}
