import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.clues import Clues
from flueproof.intake.weighing.plate_words import background_of, make_model_likeness


def like(make="", model=""):
    return make_model_likeness(Clues(make=make, model=model), "Verdane", "Lumen 5 Pro", DEFAULT)


def test_nothing_read_says_nothing():
    assert like() == 1.0


def test_the_model_as_on_file_is_likeliest_and_its_beginning_next():
    whole, begun, near, other = (like(model=text) for text in ("lumen-5 pro", "Lum", "Lumen 5 Prp", "HC-200"))
    assert whole > begun > near > other


def test_another_make_is_unlikely_and_a_slip_in_it_forgiven():
    assert like(make="Verdan") == like(make="VERDANE") > 20 * like(make="Hollin")


def test_the_background_is_what_the_file_holds():
    models = {("Verdane", "Lumen 3"): 30, ("Hollin", "HC-200"): 70}
    likeness = {plate: make_model_likeness(Clues(make="Hollin"), *plate, DEFAULT) for plate in models}
    assert background_of(likeness, models) == pytest.approx(0.7 * 0.98, abs=0.02)
    assert background_of({}, {}) > 0
