"""Molar masses and volumes."""

import pytest

from flueproof.chemistry.emissions.gases import lb_per_scf_per_ppm, mol_per_scf, molar_mass_g, molar_volume_m3
from flueproof.chemistry.errors import EmissionError
from flueproof.chemistry.shipped_table import shipped_table

ATOMS = {
    "CO": {"C": 1, "O": 1}, "NO": {"N": 1, "O": 1}, "NO2": {"N": 1, "O": 2}, "SO2": {"S": 1, "O": 2},
    "CO2": {"C": 1, "O": 2},
}  # fmt: skip


@pytest.mark.parametrize("gas", ATOMS)
def test_a_molar_mass_is_the_sum_of_its_atoms(gas):
    masses = shipped_table("elements")["mass_g_mol"]
    assert molar_mass_g(gas) == pytest.approx(sum(masses[atom] * number for atom, number in ATOMS[gas].items()))


@pytest.mark.parametrize("gas", ["NOx", "source", "H2"])
def test_an_unknown_gas_is_refused_with_what_to_do(gas):
    with pytest.raises(EmissionError, match="NOx is stated as NO2"):
        molar_mass_g(gas)


@pytest.mark.parametrize("celsius", [-60.0, 1001.0, float("nan")])
def test_a_temperature_outside_is_refused(celsius):
    with pytest.raises(EmissionError, match="-50 to 1000"):
        molar_volume_m3(celsius)


def test_a_cubic_foot_holds_a_little_more_than_a_mole():
    """453.59237 g/lb over 385.326 scf/lb-mol."""
    assert mol_per_scf() == pytest.approx(453.59237 / 385.326, rel=1e-5)
    assert lb_per_scf_per_ppm("CO2") > lb_per_scf_per_ppm("CO")
