"""The last good date without measured values: anywhere inside the limits."""

import numpy as np
import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.impact.correcting.correct import correct
from flueproof.impact.correcting.readings import field_readings
from flueproof.impact.found.lines import CO_SLOPE, NO_SLOPE, O2_SLOPE
from flueproof.impact.found.start import INSIDE_LIMITS, errors_inside_limits


def test_nothing_is_corrected_and_the_limits_are_the_doubt(gas):
    profile = shipped_profile("two-cell-residential")
    start = errors_inside_limits(profile)
    done = correct(field_readings(o2_pct=5.0, co_ppm=100.0, stack_c=200.0, air_c=20.0), start, gas)
    assert done["co_ppm"].value[0] == pytest.approx(100.0)
    assert done["co_ppm"].u[0] > 0.05 * 100 / np.sqrt(3)
    assert done["stack_c"].u[0] >= 2.5 / np.sqrt(3)
    assert INSIDE_LIMITS in start.notes


def test_a_unit_set_in_air_is_sure_of_air():
    lines = errors_inside_limits(shipped_profile("two-cell-residential")).hypotheses[0].lines
    gradient = np.zeros(7)
    gradient[:2] = 20.9, 1.0
    assert gradient @ lines.covariance @ gradient == pytest.approx(0.0, abs=1e-12)
    assert lines.u(O2_SLOPE) > 0


@pytest.mark.parametrize("name", ["two-cell-residential", "three-cell-light-commercial", "hydrogen-compensated-co",
                                  "infrared-co2-co-high-range"])  # fmt: skip
def test_every_shipped_profile_has_such_a_start(name):
    profile = shipped_profile(name)
    lines = errors_inside_limits(profile).hypotheses[0].lines
    assert (lines.u(NO_SLOPE) > 0) == ("no" in profile.channels)
    assert (lines.u(CO_SLOPE) > 0) == ("co" in profile.channels)
