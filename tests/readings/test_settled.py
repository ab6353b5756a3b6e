"""The settled value as a value."""

import dataclasses

import pytest

from flueproof.readings.settled import SettledValue


def test_a_settled_value_cannot_be_changed_afterwards():
    settled = SettledValue(489.6, 0.4)
    with pytest.raises(dataclasses.FrozenInstanceError):
        settled.value = 500.0
    assert dataclasses.replace(settled, u=1.0).u == 1.0
