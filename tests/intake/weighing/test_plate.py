import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.clues import Clues
from flueproof.intake.weighing.plate import PlateWeigher


@pytest.fixture
def weigher(roster, owners, today):
    return lambda **clues: PlateWeigher(Clues(**clues), roster, owners, roster.totals(today), DEFAULT)


def test_weights_are_the_sums_of_their_reasons(weigher, owners):
    plates = weigher(serial="210581?", make="Hollin", model="HC-200")
    for owner in owners[:4]:
        for analyzer in owner.analyzers:
            reasons = plates.reasons(analyzer)
            assert plates.weight(analyzer) == pytest.approx(sum(reason.weight for reason in reasons))
            assert {reason.clue for reason in reasons} == {"serial", "make"}


def test_a_plate_never_seen_has_nothing_for_or_against_it(weigher):
    plates = weigher(serial="2105813")
    assert plates.weight(None) == 0.0
    assert plates.reasons(None) == ()


def test_analyzers_not_looked_at_fit_no_better_than_the_worst_seen(weigher):
    assert weigher(serial="2105813").of_others < 1e-3
    assert weigher(serial="??").of_others == 1.0


def test_the_text_of_an_open_request_is_weighed_like_a_plate(weigher, owners):
    request = owners[4].requests[0]
    plates = weigher(serial="2299001", model="HC-210")
    assert plates.weight(request) > 8
