"""All checks that a change must pass: what `python3 start.py test` runs, in the environment of `.venv`.

Without arguments: format, lint, types, import contract, docs; then the tests: all on SQLite with the coverage floor,
the shop's again on a real PostgreSQL, and the pages in a real browser. With arguments: only pytest, with these.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from browser_for_tests import get_browser
from postgres_for_tests import postgres_server

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
WORKERS = str(min(os.cpu_count() or 1, 8))
GATES = {
    "format": [PYTHON, "-m", "ruff", "format", "--check", "--quiet", "."],
    "lint": [PYTHON, "-m", "ruff", "check", "--quiet", "."],
    "types": [PYTHON, "-m", "mypy"],
    "docs": [PYTHON, "-m", "sphinx", "-b", "html", "-n", "-W", "--keep-going", "-q", "docs", "docs/_build/html"],
}
PYTEST = [PYTHON, "-m", "pytest", "-q", "-n", WORKERS, "--dist", "worksteal"]
COUNTED = ["--cov", "--cov-report="]


def passes(name: str, command: list[str]) -> bool:
    """Run one gate, print one line when it passes and all it said when it does not."""
    began = time.perf_counter()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, errors="replace", check=False)
    word = "ok" if done.returncode == 0 else "FAILED"
    print(f"{name:<16} {word} ({time.perf_counter() - began:.1f} s)", flush=True)
    if done.returncode:
        print((done.stdout + done.stderr).rstrip(), flush=True)
    return done.returncode == 0


def tests(title: str, options: list[str], **environment: str) -> bool:
    """Run one round of tests and return True when all passed."""
    print(f"--- {title}", flush=True)
    done = subprocess.run([*PYTEST, *options], cwd=ROOT, env={**os.environ, **environment}, check=False)
    return done.returncode == 0


def rounds() -> tuple[list[str], list[str]]:
    """Run all tests; return what failed and what could not be run here."""
    failed, left_out = [], []
    with postgres_server() as address:
        if address is None:
            left_out.append("tests on PostgreSQL (its package is not there for this Python)")
        elif not tests("the shop on PostgreSQL", ["tests/shop", "-m", "not browser"], DATABASE_URL=address):
            failed.append("tests on PostgreSQL")
    browser = get_browser()
    if browser is None:
        left_out.append("browser tests (no Chromium, Chrome or Edge here, and none to be had)")
    elif not tests("pages in a browser", ["tests/shop", "-m", "browser"], BROWSER_PATH=browser):
        failed.append("browser tests")
    if not tests("everything on SQLite", ["-m", "not browser", *COUNTED], DATABASE_URL=""):
        failed.append("tests")
    return failed, left_out


def main(arguments: list[str]) -> int:
    """Run what was asked for and return the exit code."""
    if arguments:
        browser = get_browser() if any("browser" in word for word in arguments) else None
        environment = {**os.environ, **({"BROWSER_PATH": browser} if browser else {})}
        return subprocess.run([PYTHON, "-m", "pytest", *arguments], cwd=ROOT, env=environment, check=False).returncode
    failed = [name for name, command in GATES.items() if not passes(name, command)]
    failed_rounds, left_out = rounds()
    failed += failed_rounds
    for what in left_out:
        print(f"NOT RUN: {what}")
    if left_out and os.environ.get("CI"):
        failed.append("something was not run, which in CI is a failure")
    print(f"not passed: {'; '.join(failed)}" if failed else "all passed")
    return int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
