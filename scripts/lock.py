"""Write the three lock files anew: requirements.lock, dev.lock, tools.lock.

Run with the environment's Python: `.venv/bin/python scripts/lock.py` keeps what is pinned and adds what
pyproject.toml asks for; `--upgrade` takes the newest versions. The locks hold names, versions and hashes for
Python 3.11 and newer on every system, and no address of a registry: this script refuses to write one.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROJECT = ROOT / "pyproject.toml"
OPTIONS = ("--universal", "--python-version", "3.11", "--generate-hashes", "--no-header", "--no-annotate", "-q")


class LockError(RuntimeError):
    """A lock that must not be written."""


def compile_lock(name: str, sources: list[str], extra: list[str]) -> None:
    """Resolve sources into the lock of that name, and put it in place only when it names no address."""
    target = ROOT / name
    with tempfile.TemporaryDirectory() as folder:
        draft = Path(folder) / name
        if target.exists():
            draft.write_bytes(target.read_bytes())  # what is pinned stays, unless --upgrade is given
        command = [sys.executable, "-m", "uv", "pip", "compile", *sources, *OPTIONS, *extra, "-o", str(draft)]
        subprocess.run(command, check=True, cwd=ROOT, stdout=subprocess.DEVNULL)
        text = draft.read_text(encoding="utf-8")
    if "://" in text:
        msg = f"{name} would name a host; look at the settings of uv on this machine. Nothing was written."
        raise LockError(msg)
    target.write_text(text, encoding="utf-8", newline="\n")
    print(f"{name}: {sum(not line.startswith(' ') for line in text.splitlines())} pins")


def main() -> None:
    """Write the runtime lock, then the two that must agree with it."""
    extra = [argument for argument in sys.argv[1:] if argument == "--upgrade"]
    compile_lock("requirements.lock", [str(PROJECT)], extra)
    pinned = ["-c", str(ROOT / "requirements.lock")]
    compile_lock("dev.lock", [str(PROJECT), "--group", f"{PROJECT}:dev"], [*extra, *pinned])
    back_end = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["build-system"]["requires"]
    with tempfile.TemporaryDirectory() as folder:
        tools = Path(folder) / "tools.in"
        tools.write_text("\n".join([*back_end, "editables", "uv"]), encoding="utf-8")
        compile_lock("tools.lock", [str(tools)], [*extra, "-c", str(ROOT / "dev.lock")])


if __name__ == "__main__":
    main()
