import random

import pytest


@pytest.fixture
def chance():
    """Return the maker of chance from a seed."""
    return random.Random
