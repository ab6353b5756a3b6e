import pytest

from flueproof.papers.errors import LabelSizeError
from flueproof.papers.labels.sizes import read_sizes, shipped_sizes

GOOD = "[single.own]\nwidth_mm = 60.0\nheight_mm = 30.0\nmargin_mm = 2.0\ndots_per_mm = 8\nsource = 'own'\n"


def test_thirty_labels_lie_on_the_paper_without_touching():
    for name, (wide, high) in {"letter-30": (215.9, 279.4), "a4-30": (210.0, 297.0)}.items():
        layout = shipped_sizes().layout(name)
        assert layout.places == 30
        assert layout.left_mm + (layout.columns - 1) * layout.pitch_x_mm + layout.width_mm <= wide + 1e-6
        assert layout.top_mm + (layout.rows - 1) * layout.pitch_y_mm + layout.height_mm <= high + 1e-6
        assert layout.pitch_x_mm >= layout.width_mm
        assert layout.pitch_y_mm >= layout.height_mm


def test_a_shop_may_bring_its_own_sizes():
    assert read_sizes(GOOD, "own.toml").label("own").width_mm == 60.0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[single.own\n", "own.toml is no TOML"),
        (GOOD.replace("width_mm", "widht_mm"), "widht_mm"),
        (GOOD.replace("60.0", '"60"'), "single.own.width_mm"),
        (GOOD.replace("60.0", "-60.0"), "single.own.width_mm"),
        (GOOD.replace("60.0", "nan"), "single.own.width_mm"),
        (GOOD.replace("60.0", "20.0"), "at least 40"),
        ("[single]\nown = 3\n", "single.own"),
    ],
)
def test_a_broken_size_is_refused_by_its_key(text, said):
    with pytest.raises(LabelSizeError, match=said):
        read_sizes(text, "own.toml")


def test_an_unknown_name_is_answered_with_the_known_ones():
    with pytest.raises(LabelSizeError, match="50x30"):
        shipped_sizes().label("5x3")
    with pytest.raises(LabelSizeError, match="a4-30"):
        shipped_sizes().layout("a4-31")
