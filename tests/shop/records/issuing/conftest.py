"""Visits ready to be signed, and the signature."""

import pytest

from flueproof.shop.records.issuing.signing import sign_visit
from shop.loaded import last_hash, load_visit


@pytest.fixture
def visit_of(people, now):
    """Return a function demo name -> visit, recorded by the technician."""
    return lambda name, **how: load_visit(name, people["technician"], now, **how)


@pytest.fixture
def signed(people, now, shop):
    """Return a function visit -> paper, signed by the signer as the record stands."""

    def sign(visit, signer=None, **how):
        return sign_visit(visit, signer or people["signer"], last_hash(visit), now, shop, **how)

    return sign
