"""A fuel written down as the text that the core reads, and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueproof.chemistry.fuels.reading import read_fuel
from flueproof.shop.records.fuels.writing import WrittenFuel, fault_of, free_key, parts_of, toml_of, written_of
from flueproof.shop.records.models import ShopFuel

BIOGAS = WrittenFuel("Upgraded biogas (invented)", "gas", {"CH4": 97.0, "CO2": 2.0, "N2": 1.0}, "supplier, 2026-10-01")
TEXTS = st.text(st.characters(blacklist_categories=("Cs",)), max_size=60)


def test_what_was_written_comes_back():
    full = WrittenFuel(
        "Chips (invented)", "solid", {"C": 50.0, "H": 6.0, "O": 38.0, "water": 6.0}, "laboratory", "dry",
        fo="wood", epa="wood-residue", gross_mj_kg=19.5, gross_source="laboratory",
    )  # fmt: skip
    for written in (BIOGAS, full):
        assert written_of(toml_of(written)) == written
        assert fault_of(written) is None


@given(name=TEXTS, source=TEXTS, note=TEXTS)
def test_any_words_can_be_written_and_stay_words(name, source, note):
    words = [text.strip() for text in (name, source, note)]
    written = WrittenFuel(words[0] or "x", "gas", {"CH4": 100.0}, words[1] or "y", words[2])
    found = read_fuel(toml_of(written), "fuel")
    assert (found.name, found.source, found.note) == (written.name, written.source, written.note)


def test_what_the_core_does_not_take_is_told_with_its_place():
    fault = fault_of(WrittenFuel("x", "gas", {"CH4": 80.0}, "y"))
    assert fault.place == "fuel, composition"
    assert "add up to 80 %" in fault.problem
    assert "nothing in it burns" in fault_of(WrittenFuel("x", "gas", {"N2": 100.0}, "y")).problem


def test_the_parts_of_a_gas_are_gases_and_of_an_oil_elements():
    assert parts_of("gas")["CH4"] == "methane"
    assert list(parts_of("liquid")) == ["C", "H", "O", "N", "S", "water", "ash"]


def test_a_key_is_made_from_the_name_and_is_free(db):
    assert free_key("Upgraded biogas (invented)") == "upgraded-biogas-invented"
    assert free_key("Propane") == "propane-2"
    assert free_key("???") == "fuel"
    ShopFuel.objects.create(key="fuel", name="x", text="")
    assert free_key("???") == "fuel-2"
    assert len(free_key("a" * 100)) <= 40


@pytest.mark.parametrize("text", ["", "name = 1", "not toml ="])
def test_a_text_that_is_no_fuel_is_refused(text):
    with pytest.raises(ValueError, match="fuel"):
        written_of(text)
