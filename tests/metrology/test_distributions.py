import math

import numpy as np
import pytest
from scipy import integrate, stats

from flueproof.metrology.distributions import (
    CurvedTrapezoid,
    DisplayStep,
    FromExpanded,
    FromLevel,
    Normal,
    Rectangular,
    Triangular,
    TypeA,
    UShaped,
)
from flueproof.metrology.errors import DistributionError, LevelError

# peers: scipy.stats, a library of its own making
PEERS = [
    (Normal(2.0), stats.norm(0, 2)),
    (Normal(2.0, 7.0), stats.t(7, 0, 2)),
    (FromExpanded(4.0, 2.0), stats.norm(0, 2)),
    (FromLevel(3.92, 0.95), stats.norm(0, 3.92 / 1.959963985)),
    (TypeA(3.0, 9), stats.t(8, 0, 1)),
    (Rectangular(3.0), stats.uniform(-3, 6)),
    (Triangular(3.0), stats.triang(0.5, -3, 6)),
    (UShaped(3.0), stats.arcsine(-3, 6)),
    (DisplayStep(2.0), stats.uniform(-1, 2)),
]
BY_KIND = [f"{mine.kind} {mine.dof:g}" for mine, _ in PEERS]


@pytest.mark.parametrize(("mine", "peer"), PEERS, ids=BY_KIND)
def test_quantiles_agree_with_scipy(mine, peer):
    probability = np.linspace(0.001, 0.999, 501)
    assert mine.quantile(probability) == pytest.approx(peer.ppf(probability), rel=1e-7, abs=1e-9)


@pytest.mark.parametrize(("mine", "peer"), PEERS, ids=BY_KIND)
def test_draws_follow_the_distribution(mine, peer):
    sample = mine.draw(np.random.default_rng(11), (50, 40))
    assert sample.shape == (50, 40)
    assert stats.kstest(sample.ravel(), peer.cdf).pvalue > 0.001


@pytest.mark.parametrize(("mine", "peer"), PEERS, ids=BY_KIND)
def test_standard_uncertainty_is_the_spread_or_the_scale_of_a_t(mine, peer):
    swollen = math.sqrt(mine.dof / (mine.dof - 2.0)) if mine.kind in {"normal", "type-a"} and mine.dof < 1e9 else 1.0
    assert mine.u * swollen == pytest.approx(peer.std(), rel=1e-7)


@pytest.mark.parametrize("doubt", [0.01, 0.5, 2.7])
def test_a_rectangle_with_doubtful_limits_inverts_its_own_distribution(doubt):
    """JCGM 101:2008, 6.4.3.2: the density integrated numerically."""
    mine = CurvedTrapezoid(3.0, doubt)
    low, high = 3.0 - doubt, 3.0 + doubt

    def density(x):
        return math.log(high / max(abs(x), low)) / (4.0 * doubt) if abs(x) < high else 0.0

    for probability in (0.503, 0.7, 0.9, 0.97, 0.9999):
        at = float(mine.quantile(np.array([probability]))[0])
        area = integrate.quad(density, 0.0, at, points=[min(low, at)], epsabs=1e-13)[0]
        assert area == pytest.approx(probability - 0.5, abs=1e-10)
        assert mine.quantile(np.array([1.0 - probability]))[0] == pytest.approx(-at)
    sample = mine.draw(np.random.default_rng(2), 40_000)
    assert sample.std() == pytest.approx(mine.u, rel=0.01)


def test_limits_known_to_ten_per_cent_have_150_degrees_of_freedom():
    """JCGM 100:2008, G.4.2 with du/u = doubt/(sqrt(3) half-width)."""
    assert CurvedTrapezoid(1.0, 0.1).dof == pytest.approx(150.0)


@pytest.mark.parametrize(
    ("make", "arguments"),
    [
        (Normal, (-1.0,)), (Normal, (1.0, 0.0)), (Normal, (math.nan,)), (FromExpanded, (1.0, 0.0)),
        (FromExpanded, (1.0, math.inf)), (FromExpanded, (-1.0,)), (FromLevel, (-1.0, 0.95)), (TypeA, (1.0, 1)),
        (TypeA, (-1.0, 3)), (Rectangular, (-1.0,)), (Rectangular, (1.0, 0.0)), (Triangular, (math.inf,)),
        (UShaped, (math.nan,)), (DisplayStep, (-0.1,)), (CurvedTrapezoid, (1.0, 1.0)), (CurvedTrapezoid, (1.0, 0.0)),
    ],
)  # fmt: skip
def test_what_is_no_distribution_is_refused(make, arguments):
    with pytest.raises(DistributionError):
        make(*arguments)


def test_a_level_in_per_cent_is_refused():
    with pytest.raises(LevelError, match=r"0\.95"):
        FromLevel(1.0, 95.0)
