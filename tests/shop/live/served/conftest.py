"""A served shop for all tests here, each test at a visit of its own."""

import itertools

import pytest

from shop.serving import running_shop

from .bench_online import Place, make_code

VISITS = 24
_numbers = itertools.count()


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """A shop under its production server."""
    with running_shop(tmp_path_factory.mktemp("live"), make=make_code(VISITS)) as shop:
        yield shop


@pytest.fixture
def place(served):
    """A visit at its station at the served shop; nothing runs there yet."""
    number = next(_numbers)
    assert number < VISITS, "make more visits"
    return Place(served.address, number)
