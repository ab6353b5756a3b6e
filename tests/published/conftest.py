"""Published values of metrology: entries by id, compared within the tolerance printed beside them."""

import json
from pathlib import Path

import numpy as np
import pytest

ENTRIES = {e["id"]: e for e in json.loads((Path(__file__).parent / "data" / "metrology.json").read_text("utf-8"))}


class Published:
    """One entry: its inputs, and a comparison of computed values with the expected ones."""

    def __init__(self, name):
        self.entry = ENTRIES[name]
        self.inputs = self.entry["inputs"]
        self.expected = self.entry["expected"]

    def assert_agrees(self, *, tight=None, **computed):
        """Compare by name within the entry's tolerance; `tight`: also with the unrounded figures, relative."""
        assert computed, "nothing was compared"
        for name, value in computed.items():
            self._close(name, value, self.expected[name], self.entry["tolerance"][name])
            if tight is not None and name in self.entry.get("recomputed", {}):
                self._close(name, value, self.entry["recomputed"][name], {"rel": tight})

    def _close(self, name, value, wanted, tolerance):
        value, wanted = np.asarray(value, dtype=float), np.asarray(wanted, dtype=float)
        assert value.shape == wanted.shape, f"{name}: shape {value.shape}, published {wanted.shape}"
        allowed = tolerance.get("abs", 0.0) + tolerance.get("rel", 0.0) * np.abs(wanted)
        assert np.all(np.abs(value - wanted) <= allowed * (1.0 + 1e-9)), f"{name}: {value}, published {wanted}"


@pytest.fixture(scope="session")
def published():
    return Published
