"""What the command line costs: help, a cold judge beside a cold numpy, one record warm, a folder of records.

Run: python benchmarks/command_line.py [records]. Best of several rounds; cold runs of judge and numpy taken in turn.
CPU is user and system time of the child process; a busy machine stretches the wall times of both sides of a ratio.
"""

from __future__ import annotations

import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from flueproof.cli.judging.one_record import answer, open_bench
from flueproof.cli.judging.setting import Setting
from flueproof.simulate.demo import demo_records

ROUNDS = 7
FLUEPROOF = [sys.executable, "-c", "import sys; sys.argv[0] = 'flueproof'; from flueproof.cli.main import main; main()"]
NUMPY = [sys.executable, "-c", "import numpy"]


def costs(command: list[str]) -> tuple[float, float]:
    """Return wall and CPU time of a command [s]."""
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    wall, after = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def cold(record: Path) -> None:
    """Print the cold costs of help, judge and numpy, taken in turn."""
    commands = {
        "python -c 'import numpy' (peer)": NUMPY,
        "flueproof --help": [*FLUEPROOF, "--help"],
        "flueproof judge RECORD --json": [*FLUEPROOF, "judge", str(record), "--json"],
    }
    walls: dict[str, list[float]] = {name: [] for name in commands}
    cpus: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(ROUNDS):
        for name, command in commands.items():
            wall, cpu = costs(command)
            walls[name].append(wall)
            cpus[name].append(cpu)
    peer_wall, peer_cpu = min(next(iter(walls.values()))), min(next(iter(cpus.values())))
    print(f"{'cold, best of ' + str(ROUNDS):36s} {'wall s':>8s} {'ratio':>6s} {'CPU s':>8s} {'ratio':>6s}")
    for name in commands:
        wall, cpu = min(walls[name]), min(cpus[name])
        print(f"{name:36s} {wall:8.3f} {wall / peer_wall:6.2f} {cpu:8.3f} {cpu / peer_cpu:6.2f}")


def warm(folder: Path) -> None:
    """Print the time from file to judgement for each demo record in a process that has judged before."""
    bench = open_bench(Setting())
    files = sorted(folder.glob("*.json"))
    times: dict[str, float] = {}
    cpus: dict[str, float] = {}
    for _ in range(ROUNDS):
        for file in files:
            started, worked = time.perf_counter(), time.process_time()
            told = answer(file, bench)
            cpus[file.stem] = min(cpus.get(file.stem, 1e9), time.process_time() - worked)
            times[file.stem] = min(times.get(file.stem, 1e9), time.perf_counter() - started)
            if told.fault is not None:
                sys.exit(told.text)
    for what, spent in (("wall", times), ("CPU", cpus)):
        ordered = sorted(spent.items(), key=lambda pair: pair[1])
        middle = 1e3 * median(spent.values())
        print(f"warm, file to JSON line, {len(files)} demo records [ms {what}, best of {ROUNDS}]: median {middle:.1f}")
        print("  " + ", ".join(f"{name} {1e3 * seconds:.0f}" for name, seconds in ordered))


def many(folder: Path, count: int) -> None:
    """Print how many records a second a folder of many is judged at, by one process and by all."""
    trees = [json.loads(file.read_text("utf-8")) for file in sorted(folder.glob("*.json"))]
    visits = folder.parent / "visits"
    visits.mkdir()
    for number in range(count):
        tree = {**trees[number % len(trees)], "job": f"J-{number:06d}"}
        (visits / f"visit-{number:06d}.json").write_text(json.dumps(tree), encoding="utf-8")
    for jobs in sorted({1, len(os.sched_getaffinity(0))}):
        wall, cpu = costs([*FLUEPROOF, "judge", str(visits), "--json", "--jobs", str(jobs)])
        spent = f", CPU {1e3 * cpu / count:.1f} ms a record" if jobs == 1 else ""  # others' CPU is not this one's child
        print(f"folder of {count} records, --jobs {jobs}: {wall:.1f} s, {count / wall:.0f} records/s{spent}")


def main() -> None:
    """Print all figures."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    work = Path(tempfile.mkdtemp(prefix="flueproof-bench-"))
    try:
        folder = work / "demo"
        folder.mkdir()
        for one in demo_records():
            (folder / f"{one.name}.json").write_text(json.dumps(one.record), encoding="utf-8")
        print(f"{len(os.sched_getaffinity(0))} processors, load {os.getloadavg()[0]:.1f}")
        cold(folder / "leak-in-probe.json")
        warm(folder)
        many(folder, count)
    finally:
        shutil.rmtree(work)


if __name__ == "__main__":
    main()
