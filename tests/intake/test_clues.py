from flueproof.intake.clues import Clues


def test_a_mapping_is_read_back_as_it_was():
    clues = Clues(serial="21?58", name="Marsh Heating", town="Millbridge")
    assert clues.as_mapping() == {"serial": "21?58", "name": "Marsh Heating", "town": "Millbridge"}
    assert Clues.from_mapping(clues.as_mapping()) == clues


def test_what_is_no_clue_is_passed_over_and_long_texts_are_cut():
    clues = Clues.from_mapping({"name": "  Marsh   Heating ", "color": "red", "town": None, "street": "x" * 900})
    assert clues == Clues(name="Marsh Heating", street="x" * 200)


def test_blanks_alone_are_nothing():
    assert Clues(serial="  ").empty
    assert not Clues(serial="?").empty
