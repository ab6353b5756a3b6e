"""Errors of this room stand under one root and say where they are."""

from flueproof.impact import errors


def test_every_error_stands_under_one_root():
    own = [one for one in vars(errors).values() if isinstance(one, type) and one.__module__ == errors.__name__]
    assert len(own) == 6
    assert all(issubclass(one, errors.ImpactError) for one in own)
    assert all(one.__name__ in errors.__doc__ for one in own)


def test_a_log_error_without_a_place_says_its_message_alone():
    assert str(errors.FieldLogError("empty.")) == "empty."
