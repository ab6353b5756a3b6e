"""Kills the server, the capture agent and a typing person at random moments, and looks for what was lost or doubled.

    .venv/bin/python benchmarks/plug_pulled.py [--database sqlite|postgresql|both] [--kills 200] [--seed 1]

Each shop runs under the production server. Every 20 kills the database is compared with what was acknowledged; at the
first thing lost, doubled or out of its chain it ends with 1. PostgreSQL is started here from a package; a DATABASE_URL
in the environment is not touched. `kill -9` ends processes, not the machine: what the system has not yet written to
the disk is not tried by it.
"""

import argparse
import os
import random
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "scripts")]
LOOK_EVERY = 20


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=("sqlite", "postgresql", "both"), default="both")
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    names = ("sqlite", "postgresql") if asked.database == "both" else (asked.database,)
    stood = [pull_on(name, asked.kills, asked.seed) for name in names]
    if not all(stood):
        sys.exit(1)


def pull_on(name, kills, seed):
    """Return whether a shop on that database stood all kills."""
    from postgres_for_tests import postgres_server

    os.environ["DATABASE_URL"] = ""
    if name == "sqlite":
        return pull(name, kills, seed)
    with postgres_server() as address:
        if address is None:
            print("postgresql: its package is not installed")
            return False
        os.environ["DATABASE_URL"] = address
        return pull(name, kills, seed)


def pull(name, kills, seed):
    from shop.serve.plug import CountingAnalyzer, PluggedBench, make_code
    from shop.serving import running_shop

    chance, analyzer, began = random.Random(seed), CountingAnalyzer(), time.perf_counter()  # noqa: S311 -- a benchmark
    analyzer.start()
    with (
        tempfile.TemporaryDirectory(prefix="flueproof-plug-") as folder,
        running_shop(Path(folder), make=make_code(max(3, kills // 5))) as shop,
    ):
        bench = PluggedBench(Path(folder), shop, analyzer)
        bench.start("agent", "person")
        for number in range(1, kills + 1):
            bench.pull(chance)
            if number % LOOK_EVERY and number < kills:
                continue
            bench.work_on(2.0)
            figures, wrong = bench.judge()
            told = ", ".join(f"{count:,} {what}" for what, count in figures.items())
            print(f"{name}: {number} kills, {time.perf_counter() - began:.0f} s: {told}", flush=True)
            if wrong:
                print("\n".join(wrong[:20]))
                break
            bench.start("agent", "person")
        killed = ", ".join(f"{which} {count}" for which, count in sorted(bench.killed.items()))
        print(f"{name}: {len(wrong)} wrong; killed: {killed}", flush=True)
        if not wrong:
            bench.kill("agent", "person")
    analyzer.ended.set()
    return not wrong


if __name__ == "__main__":
    main()
