"""What the name of a part means, as people write it (own rule)."""

import pytest

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.part_names import cells_named


@pytest.mark.parametrize(
    ("what", "cells"),
    [
        ("co cell", {"co"}),
        ("CO-Cell", {"co"}),
        ("CO sensor", {"co"}),
        ("carbon monoxide cell", {"co"}),
        ("oxygen cell", {"o2"}),
        ("O2 and CO cells", {"o2", "co"}),
        ("cell", {"o2", "co"}),
        ("air sensor", set()),
        ("draft sensor", set()),
        ("pump", set()),
    ],
)
def test_a_new_cell_is_known_by_any_usual_name(what, cells):
    assert cells_named(what, shipped_profile("two-cell-residential")) == cells
