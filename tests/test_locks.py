"""The lock files: hashes for everything, no address of anything, and all that pyproject.toml asks for."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
NAMES = ["requirements.lock", "dev.lock", "tools.lock"]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ASKED_FOR = [
    *[("requirements.lock", text) for text in PROJECT["project"]["dependencies"]],
    *[("dev.lock", text) for text in PROJECT["project"]["dependencies"] + PROJECT["dependency-groups"]["dev"]],
    *[("tools.lock", text) for text in [*PROJECT["build-system"]["requires"], "uv"]],
]


def pins(name):
    """Return (requirement, hashes) for each pin of a lock."""
    blocks = re.split(r"(?m)^(?=\S)", (ROOT / name).read_text(encoding="utf-8"))
    read = [
        (block.split(" \\\n")[0], re.findall(r"--hash=sha256:([0-9a-f]{64})\b", block)) for block in blocks if block
    ]
    return [(Requirement(line), hashes) for line, hashes in read]


@pytest.mark.parametrize("name", NAMES)
def test_a_lock_names_no_host_and_no_path(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text
    assert re.findall(r"(?m)^\s*(?:-e|-i|-f|--index|--extra|--find|/|\./|file:).*$", text) == []


@pytest.mark.parametrize("name", NAMES)
def test_every_line_is_a_pin_or_a_hash(name):
    lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
    pin = re.compile(r"[a-z0-9][a-z0-9.-]*==[^ ]+( ; [^\\]+)? \\")
    sha = re.compile(r"    --hash=sha256:[0-9a-f]{64}( \\)?")
    assert [line for line in lines if not (pin.fullmatch(line) or sha.fullmatch(line))] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_pin_is_exact_and_has_hashes(name):
    loose = [str(pin) for pin, hashes in pins(name) if not (hashes and str(pin.specifier).startswith("=="))]
    assert loose == []


@pytest.mark.parametrize(("name", "text"), ASKED_FOR)
def test_what_the_project_asks_for_is_pinned_within_its_bounds(name, text):
    asked = Requirement(text)
    found = [pin for pin, _ in pins(name) if canonicalize_name(pin.name) == canonicalize_name(asked.name)]
    assert found
    for pin in found:
        (exact,) = pin.specifier
        assert asked.specifier.contains(exact.version, prereleases=True)


def test_the_development_lock_holds_every_runtime_pin():
    assert {str(pin) for pin, _ in pins("requirements.lock")} <= {str(pin) for pin, _ in pins("dev.lock")}


def test_tools_and_development_agree_where_they_share_a_package():
    development = {pin.name: str(pin.specifier) for pin, _ in pins("dev.lock")}
    tools = {pin.name: str(pin.specifier) for pin, _ in pins("tools.lock")}
    shared = tools.keys() & development.keys()
    assert {name: tools[name] for name in shared} == {name: development[name] for name in shared}
    assert "packaging" in shared


@pytest.mark.parametrize("version", ["3.11.0", "3.11.9", "3.12.4", "3.13.0", "3.14.1"])
def test_each_python_gets_one_version_of_a_package(version):
    surroundings = {"python_full_version": version, "python_version": version.rsplit(".", 1)[0]}
    names = [pin.name for pin, _ in pins("dev.lock") if pin.marker is None or pin.marker.evaluate(surroundings)]
    assert sorted(names) == sorted(set(names))
    assert {"numpy", "scipy", "sphinx"} <= set(names)
