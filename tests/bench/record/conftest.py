"""The good record of the format's own example, fresh for each test, and how to read or break it."""

import json
from pathlib import Path

import pytest

from flueproof.bench.errors import RecordError
from flueproof.bench.record.reader import read_record

GOOD = Path(__file__).parent / "good_record.json"


@pytest.fixture
def good():
    """Return the example of the format as a dictionary that a test may change."""
    return json.loads(GOOD.read_text(encoding="utf-8"))


@pytest.fixture
def good_bytes():
    return GOOD.read_bytes()


@pytest.fixture
def read():
    return lambda tree: read_record(json.dumps(tree).encode())


@pytest.fixture
def refused():
    """Return a function that reads a tree or bytes and returns the refusal; it fails where nothing is refused."""

    def refusal(given):
        data = given if isinstance(given, bytes) else json.dumps(given).encode()
        with pytest.raises(RecordError) as caught:
            read_record(data)
        return caught.value

    return refusal


@pytest.fixture
def step():
    """Return a function that makes a step of a kind, later than all steps of the good record."""

    def made(kind, **content):
        return {"id": "new", "at": "2026-11-03T12:00:00-05:00", "by": "R. Vale", "kind": kind, **content}

    return made
