import subprocess
import sys

import pytest

from flueproof.capture.door.options import COMMANDS, TOKEN_VARIABLE
from flueproof.capture.door.program import main, parser

GOOD = ["--tcp", "127.0.0.1:4001", "--pattern", "simulated-us", "--server", "http://127.0.0.1:8000", "--agent", "b1"]


def parsed(*words):
    return vars(parser().parse_args(["run", *GOOD, *words]))


def test_every_option_of_the_table_is_there_under_its_name():
    for command in COMMANDS:
        found = parser()._subparsers._group_actions[0].choices[command.name]
        names = {action.dest for action in found._actions} - {"help"}
        assert names == {option.name for option in command.options}


def test_defaults_are_those_of_the_table():
    asked = parsed()
    assert (asked["baud"], asked["framing"], asked["ceiling"], asked["report"]) == (9600, "8N1", 200.0, 60.0)
    assert asked["json"] is False


def test_the_token_comes_from_the_environment_unless_it_is_typed(monkeypatch):
    monkeypatch.setenv(TOKEN_VARIABLE, "tok-of-the-environment")
    assert parsed()["token"] == "tok-of-the-environment"  # noqa: S105
    assert parsed("--token", "tok-typed-12345")["token"] == "tok-typed-12345"  # noqa: S105
    monkeypatch.setenv(TOKEN_VARIABLE, "")
    assert not parsed()["token"]


@pytest.mark.parametrize(
    "words", [["--baud", "0"], ["--baud", "x"], ["--ceiling", "nan"], ["--ceiling", "inf"], ["--report", "-1"]]
)
def test_a_number_that_cannot_be_is_bad_input(words, capsys):
    with pytest.raises(SystemExit) as left:
        main(["run", *GOOD, *words])
    assert left.value.code == 2
    assert words[0] in capsys.readouterr().err


def test_without_a_command_it_runs_and_says_what_is_missing(capsys, monkeypatch):
    monkeypatch.delenv(TOKEN_VARIABLE, raising=False)
    assert main(GOOD) == 2
    assert f"set {TOKEN_VARIABLE}" in capsys.readouterr().err


def test_help_needs_neither_pyserial_nor_the_network_stack():
    code = (
        "import sys\nfrom flueproof.capture.door.program import parser\nparser().format_help()\n"
        "print([name for name in ('serial', 'click', 'numpy', 'django', 'pydantic') if name in sys.modules])\n"
        "ours = [name for name in sys.modules if name.startswith('flueproof')]\n"
        "print([name for name in ours if not name.startswith('flueproof.capture')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[:2] == ["[]", "['flueproof']"]


def test_the_help_names_the_cautions(capsys):
    with pytest.raises(SystemExit):
        main(["--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert "run a laptop from its battery" in said
    assert "licensed practice come first" in said
