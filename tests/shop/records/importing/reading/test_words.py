"""The table of texts: escapes are undone, half signs are not kept."""

import pytest

from flueproof.shop.records.importing.reading.words import plain


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a_x000D_b", "a\rb"),
        ("_x005F_x0041_", "_x0041_"),
        ("_xD800_", "\ufffd"),
        ("_x12_ and _xyz_", "_x12_ and _xyz_"),
        ("007", "007"),
    ],
)
def test_escapes_are_undone(text, shown):
    assert plain(text) == shown
