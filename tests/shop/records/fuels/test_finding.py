"""Fuels by key: shipped ones and the shop's own."""

import pytest

from flueproof.chemistry.errors import UnknownFuelError
from flueproof.shop.records.fuels.finding import fuel_by_key, own_fuels, usable_fuels
from flueproof.shop.records.fuels.retiring import set_in_use
from flueproof.shop.records.models import ShopFuel

TEXT = "name = 'Own gas'\nkind = 'gas'\nsource = 'supplier'\ncomposition = { CH4 = 100.0 }\n"


@pytest.fixture
def own(db):
    return ShopFuel.objects.create(key="own-gas", name="Own gas", text=TEXT)


def test_own_fuels_stand_after_the_shipped_ones(own):
    keys = list(usable_fuels())
    assert keys[-1] == "own-gas"
    assert "propane" in keys
    assert usable_fuels()["own-gas"].own


def test_a_retired_fuel_cannot_be_chosen_but_is_still_found(own, people):
    assert set_in_use(own, people["manager"], in_use=False)
    assert not set_in_use(own, people["manager"], in_use=False)
    assert "own-gas" not in usable_fuels()
    assert own_fuels() == []
    assert [one.row.key for one in own_fuels(also_retired=True)] == ["own-gas"]
    assert fuel_by_key("own-gas").name == "Own gas"
    assert own.history.count() == 2
    assert own.history.first().history_user == people["manager"]


def test_a_text_that_is_no_fuel_any_more_is_told_and_not_offered(own):
    ShopFuel.objects.create(key="broken", name="Broken", text="kind = 'gas'")
    broken = next(one for one in own_fuels() if one.row.key == "broken")
    assert broken.fuel is None
    assert "name" in broken.fault
    assert "broken" not in usable_fuels()
    with pytest.raises(UnknownFuelError, match="broken"):
        fuel_by_key("broken")


def test_a_shipped_key_is_never_taken_by_an_own_fuel(db):
    ShopFuel.objects.create(key="propane", name="Not propane", text=TEXT)
    assert not usable_fuels()["propane"].own
    assert not fuel_by_key("propane").own


def test_a_key_that_nobody_has_is_refused(db):
    with pytest.raises(UnknownFuelError, match="neither shipped nor"):
        fuel_by_key("unobtainium")
