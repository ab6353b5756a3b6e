"""Columns of text."""

import click

from flueproof.cli.words.table import Table


def test_numbers_stand_right_words_left_and_colors_take_no_room():
    table = Table(("name", "value", "word"), right=(1,))
    table.add(("a", "5", click.style("good", fg="green")))
    table.add(("longer", "1234567", "x"))
    assert [click.unstyle(line) for line in table.lines()] == [
        "name      value  word",
        "a             5  good",
        "longer  1234567  x",
    ]


def test_no_line_ends_in_blanks():
    table = Table(("a", "b"))
    table.add(("long one", ""))
    assert table.lines() == ["a         b", "long one"]
