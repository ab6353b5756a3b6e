"""All checks that a change must pass: what `python3 start.py test` runs, in the environment of `.venv`.

Without arguments: format, lint, types, import contract, docs, then the tests with the coverage floor. The tests
come last so that the closing line is pytest's. With arguments: only pytest, with these arguments.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
WORKERS = str(min(os.cpu_count() or 1, 8))
GATES = {
    "format": [PYTHON, "-m", "ruff", "format", "--check", "--quiet", "."],
    "lint": [PYTHON, "-m", "ruff", "check", "--quiet", "."],
    "types": [PYTHON, "-m", "mypy"],
    "docs": [PYTHON, "-m", "sphinx", "-b", "html", "-n", "-W", "--keep-going", "-q", "docs", "docs/_build/html"],
}
TESTS = [PYTHON, "-m", "pytest", "-q", "-n", WORKERS, "--dist", "worksteal", "--cov", "--cov-report="]


def passes(name: str, command: list[str]) -> bool:
    """Run one gate, print one line when it passes and all it said when it does not."""
    began = time.perf_counter()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, errors="replace", check=False)
    word = "ok" if done.returncode == 0 else "FAILED"
    print(f"{name:<16} {word} ({time.perf_counter() - began:.1f} s)", flush=True)
    if done.returncode:
        print((done.stdout + done.stderr).rstrip(), flush=True)
    return done.returncode == 0


def main(arguments: list[str]) -> int:
    """Run what was asked for and return the exit code."""
    if arguments:
        return subprocess.run([PYTHON, "-m", "pytest", *arguments], cwd=ROOT, check=False).returncode
    failed = [name for name, command in GATES.items() if not passes(name, command)]
    tests = subprocess.run(TESTS, cwd=ROOT, check=False).returncode
    if failed:
        print(f"not passed: {', '.join(failed)}")
    return tests or int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
