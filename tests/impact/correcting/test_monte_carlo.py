"""The linear uncertainty against Monte Carlo: 1,000 random field readings on a real as-found covariance."""

import numpy as np
import pytest

from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.readings import FieldReadings, field_readings
from flueproof.impact.correcting.shown import shown_quantities
from flueproof.impact.found.from_record import errors_as_found
from flueproof.impact.found.lines import PARAMETERS
from flueproof.simulate.truth import Truth

READINGS, DRAWS = 1000, 4000


def random_readings(generator, count=READINGS):
    return field_readings(
        o2_pct=generator.uniform(3.0, 11.0, count),
        co_ppm=generator.uniform(60.0, 800.0, count),
        stack_c=generator.uniform(120.0, 260.0, count),
        air_c=generator.uniform(10.0, 28.0, count),
    )


def drawn(readings, errors, generator):
    """Many possible true values behind each reading: lines, sensors and looks drawn anew, propagated without slopes."""
    lines = errors.hypotheses[0].lines
    parameters = generator.multivariate_normal(lines.values, lines.covariance, DRAWS, method="svd")
    o2_slope, o2_offset, co_slope, co_offset = (parameters[:, place, np.newaxis] for place in range(4))
    assert [name for name, _ in PARAMETERS[:4]] == ["o2", "o2", "co", "co"]
    size = (DRAWS, len(readings))

    def looked(shown, channel):
        return shown + np.sqrt(errors.displays[channel].variance(shown)) * generator.standard_normal(size)

    def sensed(shown, channel, found):
        error, u, _ = found.at(shown)
        return looked(shown, channel) - error - u * generator.standard_normal(size)

    o2 = (looked(readings.o2_pct, "o2") - o2_offset) / o2_slope
    co = (looked(readings.co_ppm, "co") - co_offset) / co_slope
    stack, air = sensed(readings.stack_c, "stack", errors.stack), sensed(readings.air_c, "air", errors.air)
    return o2, co, stack, air


@pytest.mark.parametrize(
    "truth",
    [Truth(gain={"co": 0.8}), Truth(dilution_probe=0.06), Truth(o2_zero_pct=0.8, probe_emf_error=0.05)],
    ids=["tired cell", "leak", "zero and probe"],
)
def test_the_linear_uncertainty_is_that_of_the_draws(bench, gas, truth):
    errors = errors_as_found(*bench(truth)[:2])
    generator = np.random.default_rng(11)
    readings = random_readings(generator)
    done = correct(readings, errors, gas)
    spread, middle = {}, {}
    for first in range(0, READINGS, 100):
        rows = slice(first, first + 100)
        o2, co, stack, air = drawn(readings.part(rows), errors, generator)
        flat = FieldReadings(*(one.ravel() for one in (o2, co, stack, air)), *(np.full(o2.size, np.nan),) * 2)
        for name, values in shown_quantities(flat, gas).items():
            spread.setdefault(name, []).append(values.reshape(o2.shape).std(axis=0))
            middle.setdefault(name, []).append(values.reshape(o2.shape).mean(axis=0))
    for name in ("o2_pct", "co_ppm", "stack_c", "air_c", "co_air_free_ppm", "excess_air_pct", "loss_pct"):
        ratio = np.concatenate(spread[name]) / done[name].u
        # 4,000 draws know a standard deviation to about 1.1 %; four times that, and 1 % for what is not linear
        assert np.all(np.abs(ratio - 1.0) < 0.06), (name, ratio.min(), ratio.max())
        assert abs(ratio.mean() - 1.0) < 0.01, (name, ratio.mean())
        bias = (np.concatenate(middle[name]) - done[name].value) / done[name].u
        assert np.all(np.abs(bias) < 0.12), (name, np.abs(bias).max())
