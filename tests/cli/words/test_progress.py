"""Progress on standard error."""

import pytest

from flueproof.cli.words.progress import Progress


def test_nothing_is_shown_where_there_is_no_terminal(capsys):
    progress = Progress(500)
    for _ in range(500):
        progress.one_done(failed=False)
    progress.clear()
    assert capsys.readouterr().err == ""


def test_asked_for_it_ends_with_all_and_the_failed(capsys):
    progress = Progress(3, asked=True)
    for failed in (False, True, False):
        progress.one_done(failed=failed)
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("3 of 3 records")
    assert line.endswith("1 not judged")


@pytest.mark.parametrize("asked", [None, True])
def test_on_a_terminal_one_line_is_written_over_and_taken_away(capsys, monkeypatch, asked):
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    progress = Progress(9, asked=asked)
    for _ in range(9):
        progress.one_done(failed=False)
    progress.clear()
    progress.clear()
    shown = capsys.readouterr().err
    assert "9 of 9 records" in shown
    assert "\n" not in shown
