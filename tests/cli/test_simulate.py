import json
import os
import signal
import socket
import subprocess
import sys

import pytest

from flueproof.capture.lines.pattern_file import pattern_of
from flueproof.simulate.live.truths import TRUTHS


def test_the_truths_are_listed(run):
    assert run("simulate", "--truths").output.split() == list(TRUTHS)
    assert json.loads(run("simulate", "--truths", "--json").output) == {"truths": list(TRUTHS)}


def test_the_pattern_is_written_or_shown(run, tmp_path):
    file = tmp_path / "own.toml"
    assert run("simulate", "--units", "si", "--write-pattern", file).exit_code == 0
    shown = run("simulate", "--units", "si", "--write-pattern", "-").output
    assert file.read_text(encoding="utf-8") == shown
    assert pattern_of(shown).channels["draft"].unit == "Pa"


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["--truth", "nosuch"], "leak-in-probe"),
        (["--profile", "nosuch"], "two-cell-residential"),
        (["--speed", "0"], "--speed"),
    ],
)
def test_a_wrong_word_is_bad_input(words, named, run):
    result = run("simulate", *words)
    assert result.exit_code == 2
    assert named in result.stderr


def test_a_taken_port_is_bad_input(run):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        result = run("simulate", "--port", taken.getsockname()[1], "--control-port", 0)
    assert result.exit_code == 2
    assert "cannot be opened" in result.stderr


def test_help_says_that_it_is_a_simulation(run):
    assert "never sign a certificate for what it shows" in " ".join(run("simulate", "--help").output.split())


@pytest.mark.skipif(os.name == "nt", reason="signals as on Unix")
@pytest.mark.parametrize("as_json", [True, False])
def test_it_runs_says_that_it_is_a_simulation_and_stops_cleanly(as_json):
    code = "import sys; from flueproof.cli.main import main; sys.argv[0] = 'flueproof'; main()"
    words = ["simulate", "--port", "0", "--control-port", "0", "--speed", "20", *(["--json"] if as_json else [])]
    process = subprocess.Popen(
        [sys.executable, "-u", "-c", code, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    first = process.stdout.readline()
    assert "simulation" in first.lower()
    if as_json:
        host, port = json.loads(first)["tcp"].split(":")
    else:
        host, port = process.stdout.readline().split()[2].split(":")
    with socket.create_connection((host, int(port)), timeout=10) as near, near.makefile() as lines:
        assert lines.readline().startswith("#")
        assert lines.readline().startswith("O2=20.9 % CO=")
    process.send_signal(signal.SIGTERM)
    _, wrong = process.communicate(timeout=10)
    assert (process.returncode, wrong) == (0, "")
