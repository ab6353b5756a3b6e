from pathlib import Path

import pytest

from flueproof.simulate.arrivals.figures import figure, table, words


def test_each_figure_says_what_it_means_and_where_it_is_from():
    assert len(table()) > 50
    for name, value, means, source in table():
        assert means, name
        assert source == "our own assumption, no source"
        assert 0 < value <= 1 or name in {"coming.due_spread_days", "file.analyzers_per_owner"}


def test_shares_of_one_draw_do_not_exceed_the_whole():
    kinds = ("known_analyzer", "new_analyzer", "stranger", "sold_on")
    assert sum(figure(f"kinds.{kind}") for kind in kinds) == pytest.approx(1)
    names = ("misspelt", "abbreviated", "person", "person_unknown", "former")
    assert sum(figure(f"sender.{kind}") for kind in names) < 1


def test_a_figure_that_is_not_there_is_refused():
    with pytest.raises(KeyError):
        figure("serial.nothing")


def test_makes_are_invented_and_their_shares_are_the_whole():
    assert sum(make["share"] for make in words()["makes"]) == pytest.approx(1)


def test_the_guide_tells_the_figures_as_they_are():
    guide = Path(__file__, "../../../../docs/guide/recognising.md").resolve().read_text(encoding="utf-8")
    for name, value, means, _ in table():
        assert f"| `{name}` | {value:g} | {means} |" in guide
