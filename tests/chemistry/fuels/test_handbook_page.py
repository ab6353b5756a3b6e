"""The page of the handbook on burning says what the code computes."""

import re
from pathlib import Path

import pytest

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.fuels.reading import read_fuel, shipped_fuels

PAGE = (Path(__file__).parents[3] / "docs" / "flue-gas" / "combustion.md").read_text("utf-8")
ROWS = {
    key: (name, float(co2), float(ratio), float(heat))
    for key, name, co2, ratio, heat in re.findall(
        r"(?m)^\| `([a-z0-9-]+)` \| (.+?) \| ([\d.]+) \| ([\d.]+) \| ([\d.]+) \|$", PAGE
    )
}


def test_every_shipped_fuel_has_a_row_and_no_other():
    assert set(ROWS) == set(shipped_fuels())


@pytest.mark.parametrize("key", ROWS)
def test_a_row_holds_what_is_computed(key):
    burnt = complete_combustion(shipped_fuels()[key])
    _, co2, ratio, heat = ROWS[key]
    assert burnt.co2_max_pct() == pytest.approx(co2, abs=0.00501)
    assert burnt.flue_dry_per_air == pytest.approx(ratio, abs=0.000501)
    assert burnt.heat.net_kj / burnt.heat.gross_kj == pytest.approx(heat, abs=0.000501)


def test_the_example_of_an_own_fuel_can_be_read():
    (example,) = re.findall(r"(?ms)^```toml\n(.*?)^```", PAGE)
    assert read_fuel(example, "example").own
