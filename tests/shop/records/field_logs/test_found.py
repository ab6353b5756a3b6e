"""What a visit found acts on field readings as the core says, with the frozen inputs of the visit's paper."""

import pytest

from flueproof.impact.errors import ImpactError
from flueproof.impact.found.from_record import errors_of_judgement
from flueproof.impact.found.lines import CO_SLOPE
from flueproof.shop.records.field_logs.found import errors_left_by, found_in, has_as_found, visits_of
from flueproof.shop.records.models import Visit
from flueproof.shop.records.visits.judged import judged


def slope(errors):
    return errors.hypotheses[0].lines.value(CO_SLOPE)


def test_the_errors_are_those_of_the_core(low):
    found, stands = found_in(low), judged(low)
    core = errors_of_judgement(stands.judgement, stands.record, stands.profile)
    assert slope(found.errors) == slope(core)
    assert 0.75 < slope(found.errors) < 0.85
    assert found.found_on.isoformat() == low.opened_at.date().isoformat()


def test_an_adjusted_analyzer_went_home_as_it_was_left(visit_of):
    adjusted = visit_of("adjusted")
    assert abs(slope(errors_left_by(adjusted)) - 1.0) < abs(slope(found_in(adjusted).errors) - 1.0)


def test_an_analyzer_that_nothing_was_done_to_went_home_as_found(visit_of):
    healthy = visit_of("healthy")
    assert slope(errors_left_by(healthy)) == slope(found_in(healthy).errors)


def test_a_visit_without_a_measurement_says_nothing(visit):
    assert not has_as_found(visit)
    assert errors_left_by(visit) is None
    with pytest.raises(ImpactError, match="Nothing was measured"):
        found_in(visit)


def test_only_measured_visits_that_may_be_seen_are_offered(low):
    analyzer = low.job.analyzer
    assert visits_of(analyzer, Visit.objects.all()) == [low]
    assert visits_of(analyzer, Visit.objects.none()) == []
