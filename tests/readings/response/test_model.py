"""The response model and its derivatives."""

import json
from pathlib import Path

import numpy as np
import pytest

from flueproof.readings.response.model import blocks_of, curve

ENTRIES = json.loads((Path(__file__).parents[2] / "published/data/flue_gas.json").read_text("utf-8"))
SHEET = [entry for entry in ENTRIES if entry["id"].startswith("resp-2exp-")]


@pytest.mark.parametrize("entry", SHEET, ids=lambda entry: entry["id"])
def test_the_sheet_s_response_of_15_and_120_s(entry):
    """Team's reference sheet of flue gas, section 6 (own model): 0.95 of 15 s and 0.05 of 120 s."""
    unknowns = np.array([[0.0, 0.95, 0.05, np.log(15.0), 0.0]])
    shown, _ = curve(np.array([float(entry["inputs"]["t_s"])]), unknowns, np.array([120.0]))
    assert shown[0, 0] == pytest.approx(entry["expected"]["fraction"], abs=entry["tolerance"]["abs"])


def test_the_sheet_is_there():
    assert len(SHEET) == 6


def test_derivatives_are_those_of_the_curve():
    times = np.linspace(0.25, 120.25, 61)
    unknowns, slow = np.array([[1.0, 420.0, 30.0, np.log(12.0), 5.0]]), np.array([75.0])
    _, slopes = curve(times, unknowns, slow)
    for place in range(5):
        move = np.zeros((1, 5))
        move[0, place] = 1e-5
        ahead, behind = curve(times, unknowns + move, slow)[0], curve(times, unknowns - move, slow)[0]
        assert slopes[0, place] == pytest.approx(((ahead - behind) / 2e-5)[0], abs=1e-4)


def test_nothing_moves_before_the_dead_time():
    shown, slopes = curve(np.array([0.0, 4.9]), np.array([[3.0, 400.0, 40.0, 2.5, 5.0]]), np.array([75.0]))
    assert shown.tolist() == [[3.0, 3.0]]
    assert np.all(slopes[0, 1:] == 0.0)


def test_blocks_are_single_looks_early_and_longer_late():
    times = np.arange(0.0, 121.0)
    blocks = blocks_of(times, 5.0)
    assert blocks.sizes[:10].tolist() == [1.0] * 10
    assert blocks.sizes.max() > 5
    assert blocks.sizes.sum() == 121


def test_averages_over_blocks_are_averages():
    times = np.arange(0.0, 121.0)
    blocks = blocks_of(times, 5.0)
    last = times[blocks.starts[-1] :]
    assert blocks.average(times)[-1] == pytest.approx(last.mean())
    assert blocks.average(np.stack((times, 2 * times))).shape == (2, len(blocks.starts))
