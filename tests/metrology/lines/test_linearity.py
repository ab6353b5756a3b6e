"""Is a channel straight over its gases."""

import numpy as np
import pytest

from flueproof.metrology.errors import LineInputError
from flueproof.metrology.lines.inverse_use import read_forward
from flueproof.metrology.lines.linearity import check_linearity, correction_from

GASES = np.array([50.0, 200.0, 500.0, 1000.0, 2000.0])
U_GASES, U_READING = 0.01 * GASES, 2.0


def test_a_straight_channel_is_called_straight_and_its_correction_follows():
    check = check_linearity(GASES, 4.0 + 0.95 * GASES, U_GASES, U_READING)
    assert check.straight
    assert check.largest_residual < 1e-6
    correction = correction_from(check, [500.0])
    assert (correction.gain, correction.offset) == pytest.approx((0.95, 4.0), rel=1e-8)
    assert correction.before == pytest.approx([4.0 - 0.05 * 500.0])
    assert correction.after == pytest.approx([0.0])
    assert correction.u_after[0] == pytest.approx(read_forward(check.fit.line, 500.0).u / 0.95, rel=1e-9)


def test_a_cell_that_saturates_is_found_and_not_corrected():
    reading = GASES / (1.0 + GASES / 12_000.0)
    check = check_linearity(GASES, reading, U_GASES, U_READING)
    assert not check.straight
    assert check.chi_square > check.critical
    with pytest.raises(LineInputError, match="zero and span cannot mend that"):
        correction_from(check, 500.0)


def test_a_bad_bottle_is_named():
    reading = 1.0 * GASES
    reading[2] += 60.0
    check = check_linearity(GASES, reading, U_GASES, U_READING)
    assert check.at == 2
    assert not check.straight
    assert check.deviations[2] > 30.0


def test_straight_channels_are_called_crooked_as_rarely_as_the_level_says():
    generator = np.random.default_rng(6)
    verdicts = []
    for _ in range(1000):
        gases = GASES + generator.normal(size=5) * U_GASES
        reading = 4.0 + 0.95 * GASES + generator.normal(size=5) * U_READING
        check = check_linearity(gases, reading, U_GASES, U_READING)
        verdicts.append((check.chi_square > check.critical, not check.straight))
    by_chi_square, either = np.mean(verdicts, axis=0)
    assert by_chi_square == pytest.approx(0.05, abs=0.022)
    assert by_chi_square <= either <= 0.12


def test_an_axis_known_exactly_has_no_weighted_residual():
    check = check_linearity(GASES, 1.01 * GASES, 0.0, U_READING)
    assert check.straight
    assert np.isfinite(check.largest_residual)


def test_a_level_that_is_none_is_refused():
    with pytest.raises(LineInputError, match="between 0 and 1"):
        check_linearity(GASES, GASES, U_GASES, U_READING, level=95.0)
