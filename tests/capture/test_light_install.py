"""The agent as a distribution of its own: built, installed with pyserial alone, and run."""

import json
import os
import shutil
import signal
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROJECT = ROOT / "packaging" / "capture"
UV = shutil.which("uv", path=os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")]))
NO_NETWORK = (
    "dns error",
    "failed to fetch",
    "could not connect",
    "connection refused",
    "error sending request",
    "offline",
)


def run(*words, **more):
    return subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False, **more)


def set_up(*words):
    """Run one step of the set-up; skip, and say so, only when the package index is out of reach."""
    done = run(*words)
    said = done.stdout + done.stderr
    if done.returncode and any(sign in said.lower() for sign in NO_NETWORK):
        pytest.skip(f"the package index is out of reach, the light distribution was not tried: {said[-200:]}")
    assert done.returncode == 0, said


@pytest.fixture(scope="module")
def light(tmp_path_factory):
    """Return the folder of the commands of a fresh environment that holds the light distribution."""
    if UV is None:
        pytest.skip("uv is not here, the light distribution was not tried")
    folder = tmp_path_factory.mktemp("light")
    set_up(UV, "build", "-q", "--wheel", PROJECT, "-o", folder / "wheel", "--python", sys.executable)
    set_up(UV, "venv", "-q", "--python", sys.executable, folder / "env")
    scripts = folder / "env" / ("Scripts" if os.name == "nt" else "bin")
    (wheel,) = (folder / "wheel").glob("*.whl")
    set_up(UV, "pip", "install", "-q", "--python", scripts / "python", wheel)
    return scripts


def test_only_pyserial_comes_with_it(light):
    done = run(UV, "pip", "list", "--format", "json", "--python", light / "python")
    versions = {one["name"]: one["version"] for one in json.loads(done.stdout)}
    assert set(versions) == {"flueproof-capture", "pyserial"}
    whole = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert versions["flueproof-capture"] == whole


def test_it_holds_the_very_files_of_the_agent_and_nothing_of_the_whole(light):
    code = "import flueproof_capture, pathlib; print(pathlib.Path(flueproof_capture.__file__).parent)"
    installed = Path(run(light / "python", "-c", code).stdout.strip())
    source = ROOT / "src/flueproof/capture"
    for folder, kinds in ((installed, "installed"), (source, "source")):
        assert (folder / "lines/patterns/simulated-us.toml").exists(), kinds
    names = {path.relative_to(source) for path in source.rglob("*") if path.suffix in {".py", ".toml"}}
    assert names == {path.relative_to(installed) for path in installed.rglob("*") if path.suffix in {".py", ".toml"}}
    assert all((installed / name).read_bytes() == (source / name).read_bytes() for name in names)
    assert not (installed.parent / "flueproof").exists()


def test_its_help_says_what_it_is_for(light):
    done = run(light / "flueproof-capture", "--help")
    assert done.returncode == 0, done.stderr
    assert "keeps every reading on disk" in " ".join(done.stdout.split())


def test_it_reads_a_pattern_it_brought(light, tmp_path):
    lines = tmp_path / "lines.txt"
    lines.write_text("O2=20.9 % CO=402 ppm T=72 F TA=71.6 F P=0.00 inH2O\n", encoding="utf-8")
    done = run(light / "flueproof-capture", "try-pattern", "simulated-us", lines)
    assert done.returncode == 0, done.stderr
    assert "co = 402 ppm" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="signals as on Unix")
def test_it_carries_lines_to_the_shop(light, port, shop, token, counting_file, tmp_path, until):
    words = ["--tcp", port.address, "--pattern", str(counting_file), "--server", shop.url, "--agent", "bench-1"]
    agent = subprocess.Popen(
        [str(light / "flueproof-capture"), *words, "--spool", str(tmp_path / "spool")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"FLUEPROOF_CAPTURE_TOKEN": token},
    )
    port.accept()
    port.send("N=1 CO=2.5 ppm\r\nN=2\r\n")
    until(lambda: len(shop.stored) == 3)
    agent.send_signal(signal.SIGTERM)
    said, wrong = agent.communicate(timeout=15)
    assert (agent.returncode, wrong) == (0, "")
    assert "3 sent, 0 waiting" in said
    assert token not in said
    assert shop.numbers() == [1, 2]


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no pseudo-terminals here")
def test_it_reads_a_serial_port(light, shop, token, counting_file, tmp_path, until):
    import tty

    near, far = os.openpty()
    tty.setraw(far)
    words = ["--serial", os.ttyname(far), "--pattern", str(counting_file), "--server", shop.url, "--agent", "bench-1"]
    agent = subprocess.Popen(
        [str(light / "flueproof-capture"), *words, "--spool", str(tmp_path / "spool"), "--json"],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"FLUEPROOF_CAPTURE_TOKEN": token},
    )
    told = [json.loads(agent.stdout.readline())["event"] for _ in range(2)]
    assert told == ["started", "connected"]
    os.write(near, b"02 ppm\r\nN=5\r\n")
    until(lambda: shop.numbers() == [5])
    agent.send_signal(signal.SIGINT)
    agent.communicate(timeout=15)
    os.close(near)
    os.close(far)
    assert agent.returncode == 0
