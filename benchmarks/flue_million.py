"""A million field readings with uncertainty in one call, beside the bare formula and beside an equilibrium code.

    python benchmarks/flue_million.py [--readings 1000000] [--loop 300] [--rounds 5]

Bare: the same figures written as plain numpy over the same arrays, without uncertainty, basis or looking over.
Equilibrium: Cantera, one reading after the other, for CO2, water and net loss; a few hundred, extrapolated. It knows
nothing of our balance: reactants in at the air's temperature, products out at the stack's.
"""

from __future__ import annotations

import argparse
import os
import statistics
import time

import cantera
import numpy as np

from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.field.figures import field_figures
from flueproof.chemistry.field.setting import Setting
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.loss.balance import net_balance_pct
from flueproof.chemistry.uncertainty.doubt import Doubt, common_leak

SETTING = Setting(shipped_fuel("methane"))
CORRECTED = ("co2", "excess_air", "co_air_free", "loss_german")
WITH_BALANCE = (*CORRECTED, "loss_net")
PRODUCTS = ("CH4", "CO2", "H2O", "N2", "O2", "Ar", "CO", "H2", "OH", "NO")
AIR = {"O2": 0.20946, "N2": 0.78120, "Ar": 0.00934}


def field_readings(count):
    """Random field readings (invented) of a gas appliance."""
    draws = np.random.default_rng(5)
    air = draws.uniform(0.0, 32.0, count)
    return {
        "o2": draws.uniform(1.0, 13.0, count),
        "co": draws.uniform(2.0, 900.0, count),
        "stack": air + draws.uniform(60.0, 320.0, count),
        "air": air,
    }


def bare(readings, *, balance):
    """The formulas as anyone would write them."""
    o2, co, stack, air = (readings[name] for name in ("o2", "co", "stack", "air"))
    burned = SETTING.combustion
    co2 = burned.co2_max_pct() * (20.946 - o2) / 20.946
    excess = 100.0 * burned.flue_dry_per_air * o2 / (20.946 - o2)
    air_free = co * 20.9 / (20.9 - o2)
    loss = (stack - air) * (0.66 / (21.0 - o2) + 0.009)
    exact = net_balance_pct(burned, 1.0 + excess / 100.0, stack, air) if balance else None
    return co2, excess, air_free, loss, exact


def doubtful(readings):
    leak = common_leak(readings["o2"], 0.01, {"co": readings["co"]})
    u = {"o2": 0.2, "co": 2.0 + 0.05 * readings["co"], "stack": 2.0, "air": 1.0}
    return Doubt(u, (leak,), (("stack", "air", 0.5),))


def best(function, rounds):
    times = []
    for _ in range(rounds):
        began = time.perf_counter()
        function()
        times.append(time.perf_counter() - began)
    return min(times), statistics.median(times)


def equilibrium(readings, count):
    """Return CO2 dry [%], water wet [%], net loss [%] of the first readings by Cantera, and the time of the loop."""
    species = [one for one in cantera.Species.list_from_file("nasa_gas.yaml") if one.name in PRODUCTS]
    gas = cantera.Solution(thermo="ideal-gas", species=species)
    air_taken = np.asarray(flue_gas_from_o2(SETTING.combustion, readings["o2"][:count]).air)
    found = np.empty((3, count))
    carbon, water = gas.species_index("CO2"), gas.species_index("H2O")
    net = 1e3 * SETTING.combustion.heat.net_kj
    began = time.perf_counter()
    for row in range(count):
        into = {"CH4": 1.0, **{name: share * air_taken[row] for name, share in AIR.items()}}
        gas.TPX = readings["air"][row] + 273.15, cantera.one_atm, into
        moles, before, mass = 1.0 + air_taken[row], gas.enthalpy_mole / 1e3, gas.mean_molecular_weight
        gas.TP = readings["stack"][row] + 273.15, cantera.one_atm
        gas.equilibrate("TP")
        shares = gas.X
        after = moles * mass / gas.mean_molecular_weight * gas.enthalpy_mole / 1e3
        found[:, row] = (
            100.0 * shares[carbon] / (1.0 - shares[water]),
            100.0 * shares[water],
            100.0 * (1.0 - (moles * before - after) / net),
        )
    return found, time.perf_counter() - began


def same_three(readings):
    """CO2 dry [%], water wet [%], net loss [%] of all readings in one go."""
    flue = flue_gas_from_o2(SETTING.combustion, readings["o2"])
    loss = net_balance_pct(SETTING.combustion, flue.lambda_, readings["stack"], readings["air"])
    return np.stack([flue.co2_dry_pct(), 100.0 * flue.water_wet_share, loss])


def main():
    wanted = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    wanted.add_argument("--readings", type=int, default=1_000_000)
    wanted.add_argument("--loop", type=int, default=300)
    wanted.add_argument("--rounds", type=int, default=5)
    given = wanted.parse_args()
    readings = field_readings(given.readings)
    doubt = doubtful(readings)
    print(f"{given.readings} readings, {len(os.sched_getaffinity(0))} processors, load {os.getloadavg()[0]:.1f}")
    for name, keys, balance in (("corrected", CORRECTED, False), ("and the exact balance", WITH_BALANCE, True)):
        bare_best, bare_middle = best(lambda balance=balance: bare(readings, balance=balance), given.rounds)
        ours_best, ours_middle = best(lambda keys=keys: field_figures(SETTING, readings, doubt, keys), given.rounds)
        print(
            f"{name}: bare {bare_best:.3f} s (median {bare_middle:.3f}), with uncertainty {ours_best:.3f} s "
            f"(median {ours_middle:.3f}), ratio {ours_best / bare_best:.1f} (goal 15)"
        )
    theirs, spent = equilibrium(readings, given.loop)
    ours_best, _ = best(lambda: same_three(readings), given.rounds)
    apart = np.abs(same_three({name: value[: given.loop] for name, value in readings.items()}) - theirs)
    loop = spent / given.loop * given.readings
    print(
        f"equilibrium loop {1e3 * spent / given.loop:.2f} ms a reading, {loop:.0f} s for all (extrapolated from "
        f"{given.loop}); ours {ours_best:.3f} s, {loop / ours_best:.0f} times faster (goal 1000)"
    )
    full, _ = best(lambda: field_figures(SETTING, readings, doubt, WITH_BALANCE), 2)
    print(f"  with uncertainty of all five figures: {full:.3f} s, {loop / full:.0f} times faster")
    print(
        f"largest difference: CO2 {apart[0].max():.3f}, water {apart[1].max():.3f}, net loss {apart[2].max():.3f} "
        "points (goal 0.1)"
    )


if __name__ == "__main__":
    main()
