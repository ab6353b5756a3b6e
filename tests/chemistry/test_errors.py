"""The errors of the room are one family."""

import inspect

import pytest

from flueproof.chemistry import errors

ALL = [one for _, one in inspect.getmembers(errors, inspect.isclass) if one.__module__ == errors.__name__]


@pytest.mark.parametrize("error", ALL, ids=lambda one: one.__name__)
def test_every_error_is_one_of_the_room_and_a_value_error(error):
    assert issubclass(error, errors.ChemistryError)
    assert issubclass(error, ValueError)
    assert error.__doc__


def test_the_tree_at_the_head_names_all_of_them():
    assert {one.__name__ for one in ALL} == {word for word in errors.__doc__.split() if word.endswith("Error")}


def test_a_fuel_error_says_place_and_problem():
    error = errors.FuelError("own, kind", "is missing.")
    assert (str(error), error.place, error.problem) == ("own, kind: is missing.", "own, kind", "is missing.")
