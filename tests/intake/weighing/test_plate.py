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


def test_analyzers_of_owners_not_looked_at_count_by_how_like_they_are(roster, owners, today):
    def others(looked_at, count, **clues):
        return PlateWeigher(Clues(**clues), roster, looked_at, roster.totals(today), DEFAULT).of_unseen(count)

    all_but_two = [owner for owner in owners if owner.key not in {"marsh", "vale"}]
    assert others(all_but_two, 3, serial="2105813") > 100 * others(owners, 0, serial="2105813")
    assert others(all_but_two, 3, serial="21058??") > others(all_but_two, 3, serial="1805813")
    assert others(owners, 5, serial="??") == 5


def test_the_text_of_an_open_request_is_weighed_like_a_plate(weigher, owners):
    request = owners[4].requests[0]
    plates = weigher(serial="2299001", model="HC-210")
    assert plates.weight(request) > 8
