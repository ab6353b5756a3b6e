"""Temperature points: whose they are, and what they owe to one thermometer."""

import numpy as np
import pytest

from flueproof.impact.found.from_record import errors_as_found
from flueproof.simulate.population import usual_plan
from flueproof.simulate.truth import Truth


def two_points(visit):
    usual_plan(visit)
    visit.temperature("therm-1", 100.0)


def one_thermometer(visit):
    visit.temperature("therm-1", 200.0)
    visit.temperature("therm-1", 22.0, "air", "air-sensor")
    visit.test_gas("cyl-co-500", "tip")


def test_points_stand_in_rising_order_and_share_the_certificate(bench):
    record, profile, _ = bench(Truth(probe_emf_error=0.05), plan=two_points)
    stack = errors_as_found(record, profile).stack
    assert stack.shown_c[0] < stack.shown_c[1]
    assert stack.error_k == pytest.approx([4.0, 9.0], abs=1.6)
    assert 0 < stack.covariance[0, 1] < stack.covariance[0, 0]


def test_stack_and_air_on_one_thermometer_are_correlated(bench):
    record, profile, _ = bench(plan=one_thermometer)
    errors = errors_as_found(record, profile)
    assert errors.stack_air is not None
    assert np.all(errors.stack_air > 0)


def test_on_two_thermometers_they_are_not(bench):
    record, profile, _ = bench()
    assert errors_as_found(record, profile).stack_air is None


def test_repeats_near_one_temperature_are_one_point(bench):
    def plan(visit):
        usual_plan(visit)
        visit.temperature("therm-1", 200.7)

    record, profile, _ = bench(plan=plan)
    assert errors_as_found(record, profile).stack.shown_c.size == 1
