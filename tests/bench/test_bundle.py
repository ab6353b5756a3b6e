"""The frozen input bundle: what else the judge used, hashed."""

import hashlib
import json

import pytest

from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle, bundle_from_dict
from flueproof.readings.population import GENERIC

FULL = Bundle({"co": GENERIC.to_dict()}, {"co": (2.1, 14.0)}, 0.93)


def test_the_hash_is_that_of_the_canonical_json():
    """FIPS 180-4 through hashlib; keys sorted, no spaces."""
    text = '{"repeatability":{},"response":{},"share_in_limits":null}'
    assert hashlib.sha256(text.encode()).hexdigest() == EMPTY_BUNDLE.sha256()


def test_a_bundle_comes_back_from_its_json_with_the_same_hash():
    back = bundle_from_dict(json.loads(json.dumps(FULL.as_dict())))
    assert back.as_dict() == FULL.as_dict()
    assert back.sha256() == FULL.sha256()


@pytest.mark.parametrize(
    "other",
    [
        EMPTY_BUNDLE,
        Bundle(FULL.response, {"co": (2.2, 14.0)}, 0.93),
        Bundle(FULL.response, FULL.repeatability, 0.94),
        Bundle({}, FULL.repeatability, 0.93),
    ],
)
def test_any_other_input_is_another_hash(other):
    assert other.sha256() != FULL.sha256()


def test_the_order_of_channels_does_not_change_the_hash():
    first = Bundle(repeatability={"co": (1.0, 3.0), "o2": (0.1, 4.0)})
    second = Bundle(repeatability={"o2": (0.1, 4.0), "co": (1.0, 3.0)})
    assert first.sha256() == second.sha256()


@pytest.mark.parametrize("data", [{}, {"response": {}, "repeatability": {"co": ["x", 1]}, "share_in_limits": None}])
def test_foreign_data_is_refused(data):
    with pytest.raises((KeyError, ValueError)):
        bundle_from_dict(data)
