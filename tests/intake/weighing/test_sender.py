import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.clues import Clues
from flueproof.intake.weighing.sender import NOBODY, SenderWeigher

CLUES = Clues(
    name="Vale Mechanical", town="Millbridge", postmark="Harford", phone="015-200-4417", email="ada@reed-boiler.example"
)


def test_each_clue_to_the_sender_is_weighed(roster, owners, today):
    weigher = SenderWeigher(CLUES, roster, owners, roster.totals(today), DEFAULT)
    assert [reason.clue for reason in weigher.weigh(owners[1])] == ["name", "address", "phone", "e-mail"]


def test_whoever_is_not_looked_at_has_name_and_mail_against_him(roster, owners, today):
    weigher = SenderWeigher(CLUES, roster, owners, roster.totals(today), DEFAULT)
    assert all(reason.weight < 0 for reason in weigher.weigh(NOBODY))
    assert weigher.of_unseen() < -3


def test_a_place_alone_says_nothing_against_those_that_live_there_and_were_not_looked_at(roster, owners, today):
    clues = Clues(town="Millbridge", postcode="41002")
    few, all_there = (
        SenderWeigher(clues, roster, seen, roster.totals(today), DEFAULT).of_unseen() for seen in ([], owners)
    )
    assert few == pytest.approx(0, abs=0.15)
    assert all_there < -1


def test_nothing_read_says_nothing(roster, owners, today):
    weigher = SenderWeigher(Clues(serial="1"), roster, owners, roster.totals(today), DEFAULT)
    assert all(weigher.weigh(owner) == () for owner in owners)
