"""The rate of use with its doubt, against scipy's distributions."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from flueproof.parts.demand.rate import Rate, enough_for, predicted, rate_of
from flueproof.parts.demand.season import FLAT, exposure
from flueproof.parts.errors import UnusableNumberError

YEAR = exposure(dt.date(2025, 1, 1), dt.date(2025, 12, 31))


@given(st.floats(1, 400), st.floats(2, 60), st.floats(0.01, 30))
def test_the_prediction_is_the_negative_binomial_of_scipy(shape, months, weight):
    chances = predicted(Rate(shape, months), weight)
    theirs = stats.nbinom(shape, months / (months + weight)).pmf(range(len(chances)))
    assert chances == pytest.approx(theirs, rel=1e-6, abs=1e-12)
    assert sum(chances) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("share", [0.5, 0.9, 0.95, 0.99])
def test_enough_is_the_quantile_of_scipy(share):
    assert enough_for(predicted(Rate(13, 15), 1.4), share) == stats.nbinom(13, 15 / 16.4).ppf(share)


def test_with_very_many_data_the_prediction_is_poisson():
    chances = predicted(Rate(1e7, 5e6), 1.5)
    assert chances[:12] == pytest.approx(stats.poisson(3.0).pmf(range(12)), rel=1e-4)


def test_without_data_the_guess_stands_and_with_data_it_fades():
    assert rate_of({}, {}, FLAT, 0.5).mean == 0.5
    assert rate_of(dict.fromkeys(YEAR, 10.0), YEAR, FLAT, 0.5).mean == pytest.approx(121 / 14)
    assert rate_of({}, YEAR, FLAT, 2.0).mean == pytest.approx(1 / 12.5)


def test_more_put_back_than_taken_is_no_use():
    assert rate_of({(2025, 5): -3.0}, YEAR, FLAT, 1.0).shape == 1.0


@given(st.floats(1, 60), st.floats(0.5, 40), st.floats(0, 5), st.floats(0, 5))
def test_a_longer_wait_never_needs_less(shape, months, one, more):
    rate = Rate(shape, months)
    assert enough_for(predicted(rate, one), 0.95) <= enough_for(predicted(rate, one + more), 0.95)


@pytest.mark.parametrize("bad", [0, 1, -0.1, float("nan")])
def test_a_share_that_is_none_is_refused(bad):
    with pytest.raises(UnusableNumberError):
        enough_for([1.0], bad)


@pytest.mark.parametrize("guess", [0, -1, float("nan")])
def test_a_guess_of_nothing_is_refused(guess):
    with pytest.raises(UnusableNumberError):
        rate_of({}, {}, FLAT, guess)


def test_a_use_beyond_all_measure_is_refused():
    with pytest.raises(UnusableNumberError):
        predicted(Rate(1e6, 1.0), 12.0)
