"""The data tables of the room."""

from importlib import resources

import pytest

from flueproof.chemistry.shipped_table import shipped_table

NAMES = sorted(
    path.name.removesuffix(".toml") for path in resources.files("flueproof.chemistry").joinpath("data").iterdir()
)


@pytest.mark.parametrize("name", NAMES)
def test_every_table_can_be_read_and_is_read_once(name):
    assert shipped_table(name)
    assert shipped_table(name) is shipped_table(name)


def test_a_table_that_is_not_there_is_an_error():
    with pytest.raises(FileNotFoundError):
        shipped_table("peat")
