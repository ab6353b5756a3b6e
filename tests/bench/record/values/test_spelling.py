import pytest

from flueproof.bench.record.values.spelling import nearest_word

KEYS = ("gas_on_s", "reference", "humidity_pct", "as-found")


@pytest.mark.parametrize(
    ("given", "known"),
    [("refrence", "reference"), ("gasOnS", "gas_on_s"), ("Humidity %pct", "humidity_pct"), ("as found", "as-found")],
)
def test_the_nearest_known_word_is_found(given, known):
    assert nearest_word(given, KEYS) == known


@pytest.mark.parametrize("given", ["colour", "", "x" * 100_000, 5, None])
def test_nothing_is_suggested_where_nothing_comes_near(given):
    assert nearest_word(given, KEYS) is None
