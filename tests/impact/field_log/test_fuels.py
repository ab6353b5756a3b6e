"""Words that people write for a fuel."""

import pytest

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.chemistry.fuels.reading import shipped_fuels
from flueproof.impact.field_log.fuels import WORDS, fuel_named


@pytest.mark.parametrize(("word", "key"), [
    ("Natural Gas", "natural-gas-us"), ("LPG", "propane"), ("#2 oil", "heating-oil"), ("No. 2 oil", "heating-oil"),
    ("wood-pellets", "wood-pellets"), ("Heizöl", "heating-oil"),
])  # fmt: skip
def test_a_word_means_a_fuel(word, key):
    assert fuel_named(word).key == key


def test_every_word_leads_to_a_fuel_that_the_house_ships():
    assert set(WORDS) <= set(shipped_fuels())


def test_a_fuel_of_the_shops_own_comes_first():
    own = Fuel("our-gas", "Our gas", "gas", {"CH4": 100.0}, "measured")
    assert fuel_named("our gas", {"our-gas": own}) is own


def test_an_unknown_word_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="natural-gas-us"):
        fuel_named("plutonium")
