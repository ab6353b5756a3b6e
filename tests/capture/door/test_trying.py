import io
import json
import sys

import pytest

from flueproof.capture.door.trying import try_pattern
from flueproof.capture.errors import SettingError

LINES = b"# heading\r\nN=1 CO=2.5 ppm\r\nN=2 CO=2.7 ppm\r\n\r\nrubbish \x1b[2J\r\nN=ERR\r\n"


@pytest.fixture
def lines(tmp_path):
    file = tmp_path / "lines.txt"
    file.write_bytes(LINES)
    return str(file)


def test_every_line_is_shown_with_what_the_pattern_makes_of_it(lines, counting_file, capsys):
    assert try_pattern(str(counting_file), lines, json=False) == 0
    said = capsys.readouterr().out
    assert "n = 1 1  co = 2.5 ppm" in said
    assert "co = 2.7 ppm (not on its display step!)" in said
    assert "passed over  # heading" in said
    assert "no pattern matches the whole line" in said
    assert "'ERR' is neither a number" in said
    assert "\x1b" not in said
    assert said.endswith("2 lines matched, 2 not, 1 passed over.\n")


def test_as_json_each_line_is_an_object(lines, counting_file, capsys):
    assert try_pattern(str(counting_file), lines, json=True) == 0
    rows = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert rows[1]["shown"][1] == {"channel": "co", "unit": "ppm", "step": 0.5, "shown": 2.5, "on_step": True}
    assert rows[2]["shown"][1]["on_step"] is False
    assert rows[0]["shown"] is None
    assert "why" in rows[3]


def test_the_exit_code_is_one_when_nothing_matches(tmp_path, counting_file):
    file = tmp_path / "lines.txt"
    file.write_text("rubbish\n", encoding="utf-8")
    assert try_pattern(str(counting_file), str(file), json=True) == 1


def test_a_last_line_without_an_end_is_shown_too(tmp_path, counting_file):
    file = tmp_path / "lines.txt"
    file.write_text("N=1", encoding="utf-8")
    assert try_pattern(str(counting_file), str(file), json=True) == 0


def test_lines_may_come_from_standard_input(counting_file, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(LINES)))
    assert try_pattern(str(counting_file), "-", json=False) == 0
    assert "2 lines matched" in capsys.readouterr().out


def test_a_file_that_is_not_there_is_named(counting_file):
    with pytest.raises(SettingError, match=r"nosuch\.txt"):
        try_pattern(str(counting_file), "nosuch.txt", json=False)
