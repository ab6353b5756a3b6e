"""The season: monthly factors, shrunk."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.parts.demand.season import FLAT, exposure, factors, weight_of_span
from flueproof.parts.errors import UnusableNumberError

TWO_YEARS = exposure(dt.date(2024, 1, 1), dt.date(2025, 12, 31))


def test_parts_of_months_are_seen_in_part():
    seen = exposure(dt.date(2026, 1, 16), dt.date(2026, 3, 7))
    assert seen == pytest.approx({(2026, 1): 16 / 31, (2026, 2): 1.0, (2026, 3): 7 / 31})
    assert exposure(dt.date(2026, 2, 1), dt.date(2026, 1, 1)) == {}


def test_nothing_used_gives_the_prior():
    prior = tuple(2.0 if month == 10 else 10 / 11 for month in range(1, 13))
    assert factors({}, TWO_YEARS, prior) == pytest.approx(prior)
    assert factors({}, {}) == FLAT


def test_much_use_outweighs_the_prior():
    used = {month: 900.0 if month[1] == 10 else 300.0 for month in TWO_YEARS}
    season = factors(used, TWO_YEARS)
    assert season[9] / season[0] == pytest.approx(3.0, rel=0.03)


def test_little_use_hardly_moves_it():
    season = factors({(2025, 10): 1.0}, TWO_YEARS)
    assert 1.0 < season[9] < 1.25


def test_a_half_watched_october_counts_by_its_share():
    seen = {**exposure(dt.date(2025, 1, 1), dt.date(2025, 9, 30)), (2025, 10): 0.5}
    used = {month: 1000.0 * share for month, share in seen.items()}
    assert factors(used, seen)[9] == pytest.approx(1.0, abs=0.02)


@given(st.dictionaries(st.sampled_from(sorted(TWO_YEARS)), st.integers(0, 50)))
def test_factors_stay_above_none_and_their_mean_is_one(used):
    season = factors(used, TWO_YEARS)
    assert min(season) > 0
    assert sum(season) / 12 == pytest.approx(1.0)


@given(st.dates(dt.date(2020, 1, 1), dt.date(2030, 1, 1)), st.integers(0, 900), st.integers(0, 900))
def test_a_span_weighs_what_its_two_parts_weigh(first, one, two):
    season = tuple(0.5 + month / 12 for month in range(12))
    whole = weight_of_span(season, first, one + two)
    parts = weight_of_span(season, first, one) + weight_of_span(season, first + dt.timedelta(one), two)
    assert whole == pytest.approx(parts)


def test_a_year_weighs_twelve_average_months():
    assert weight_of_span(factors({}, {}), dt.date(2026, 3, 1), 365) == pytest.approx(12.0)


@pytest.mark.parametrize(("prior", "strength"), [(FLAT[:11], 6), ((0.0,) * 12, 6), (FLAT, 0)])
def test_what_is_no_season_is_refused(prior, strength):
    with pytest.raises(UnusableNumberError):
        factors({}, TWO_YEARS, prior, strength)


def test_a_span_below_none_is_refused():
    with pytest.raises(UnusableNumberError):
        weight_of_span(FLAT, dt.date(2026, 1, 1), -1)
