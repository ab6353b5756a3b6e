import json
import subprocess
import sys

import click
import pytest

from flueproof.capture.door.options import COMMANDS, RUN, TOKEN_VARIABLE
from flueproof.cli.capture import capture

LINE = "O2=20.9 % CO=402 ppm T=72 F TA=71.6 F P=0.00 inH2O\n"
GOOD = ["--tcp", "127.0.0.1:4001", "--pattern", "simulated-us", "--server", "http://127.0.0.1:8000", "--agent", "b1"]


@pytest.fixture
def lines(tmp_path):
    file = tmp_path / "lines.txt"
    file.write_text(LINE, encoding="utf-8")
    return file


def test_it_has_the_commands_and_options_of_the_light_one():
    assert list(capture.commands) == [one.name for one in COMMANDS]
    for one in COMMANDS:
        parameters = capture.commands[one.name].params
        assert [parameter.name for parameter in parameters] == [option.name for option in one.options]
        for parameter, option in zip(parameters, one.options, strict=True):
            if isinstance(parameter, click.Option) and option.kind != "switch":
                assert parameter.required == option.needed
                assert parameter.envvar == option.variable
                assert parameter.get_default(click.Context(capture)) == option.default


def test_try_pattern_shows_what_a_pattern_finds(run, lines):
    result = run("capture", "try-pattern", "simulated-us", lines)
    assert result.exit_code == 0
    assert "co = 402 ppm" in result.output
    rows = run("capture", "try-pattern", "simulated-us", lines, "--json").output.splitlines()
    assert json.loads(rows[0])["shown"][1]["shown"] == 402


def test_a_pattern_that_matches_nothing_ends_with_one(run, tmp_path):
    file = tmp_path / "rubbish.txt"
    file.write_text("rubbish\n", encoding="utf-8")
    assert run("capture", "try-pattern", "simulated-us", file).exit_code == 1


def test_without_a_command_it_is_the_agent(run, monkeypatch):
    monkeypatch.delenv(TOKEN_VARIABLE, raising=False)
    plain, named = run("capture", *GOOD), run("capture", RUN.name, *GOOD)
    assert plain.exit_code == named.exit_code == 2
    assert TOKEN_VARIABLE in plain.stderr
    assert plain.stderr == named.stderr


def test_what_is_wrong_is_said_in_one_line(run):
    result = run("capture", *GOOD, "--token", "tok-12345678", "--pattern", "nosuch.toml")
    assert result.exit_code == 2
    assert result.stderr.startswith("flueproof: nosuch.toml:")
    assert "tok-12345678" not in result.output
    assert run("capture", *GOOD, "--token", "tok-12345678", "--baud", "0").exit_code == 2


def test_check_of_a_shop_that_is_away_ends_with_two(run, tmp_path):
    words = ["--server", "http://127.0.0.1:9", "--agent", "b1", "--token", "tok-12345678", "--spool", tmp_path / "s"]
    result = run("capture", "check", *words, "--json")
    assert result.exit_code == 2
    assert [json.loads(line)["event"] for line in result.output.splitlines()] == ["wrong", "spool"]


def test_the_help_names_the_cautions(run):
    said = " ".join(run("capture", "--help").output.split())
    assert "run a laptop from its battery" in said
    assert "licensed practice come first" in said


def test_it_loads_nothing_heavy():
    code = (
        "import sys\nfrom flueproof.cli.capture import capture\n"
        "heavy = ('numpy', 'scipy', 'django', 'pydantic', 'serial', 'http.client')\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
