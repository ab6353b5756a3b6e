from flueproof.intake.clues import Clues
from flueproof.intake.ranking import rank
from intake.conftest import TODAY


def first(roster, **clues):
    answer = rank(Clues(**clues), roster, TODAY)
    return None if answer.is_stranger else answer.owners[0].owner.key


def test_a_serial_as_on_file_is_enough(roster):
    answer = rank(Clues(serial="2105813"), roster, TODAY)
    assert answer.best.analyzer.serial == "2105813"
    assert answer.owners[0].probability > 0.8
