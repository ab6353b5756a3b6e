"""Limits of the owner's own, as the bench record has them."""

import pytest

from flueproof.shop.records.intake.asking.limits import own_limits


@pytest.mark.parametrize(
    ("given", "limits"),
    [
        ((None, None, None), "profile"),
        ((10.0, None, None), {"co": {"absolute": 10.0, "unit": "ppm"}}),
        ((None, 5.0, None), {"co": {"percent": 5.0, "of": "reference"}}),
        ((10.0, 5.0, 0.3), {
            "co": {"absolute": 10.0, "unit": "ppm", "percent": 5.0, "of": "reference"},
            "o2": {"absolute": 0.3, "unit": "%"},
        }),
    ],
)  # fmt: skip
def test_what_is_given_becomes_limits_and_nothing_is_the_usual_ones(given, limits):
    assert own_limits(*given) == limits
