"""How long the server takes to its first page, and the demo shop from nothing.

    .venv/bin/python benchmarks/start_serving.py [--times 5]

Told are seconds from the start of the command to the answer of the sign-in page: in an empty folder (tables are made,
static files collected), then again on what is there; and how long it takes until the demo shop answers. The peer is a
process that does no more than load the settings of Django and numpy. All on SQLite, the files of the program in the
system's cache after a first start that does not count.
"""

import argparse
import contextlib
import os
import signal
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parent.parent / "tests")]
GOAL_S, DEMO_GOAL_S = 3.0, 20.0
LOADS = "import django, numpy; django.setup()"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=5)
    times = parser.parse_args().times
    with tempfile.TemporaryDirectory(prefix="flueproof-start-") as folder:
        place = Path(folder)
        first_page_s("serve", "--data", str(place / "warm-up"))
        new = [first_page_s("serve", "--data", str(place / f"new-{turn}")) for turn in range(times)]
        again = [first_page_s("serve", "--data", str(place / "new-0")) for _ in range(times)]
        demo = [first_page_s("demo", "--no-browser", "--out", str(place / f"demo-{turn}")) for turn in range(2)]
        peer = [loaded_s(place / "new-0") for _ in range(times)]
    tell(f"serve, what is there (goal {GOAL_S} s)", again)
    tell("serve, an empty folder", new)
    tell(f"demo, from nothing (goal {DEMO_GOAL_S} s)", demo)
    tell("peer: Django and numpy loaded", peer)


def first_page_s(*words):
    """Start a command of the program that serves; return how long it took to the first page [s]."""
    from shop.serving import free_port

    port, began = free_port(), time.perf_counter()
    environment = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    process = subprocess.Popen(
        [sys.executable, "-m", "flueproof.cli", *words, "--port", str(port)],
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        while True:
            if process.poll() is not None:
                raise RuntimeError(f"{words[0]} ended with {process.returncode}")
            with contextlib.suppress(OSError), urllib.request.urlopen(f"http://127.0.0.1:{port}/sign-in") as answer:
                answer.read()
                return time.perf_counter() - began
            time.sleep(0.01)
    finally:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def loaded_s(data):
    environment = {**os.environ, "FLUEPROOF_DATA": str(data), "DJANGO_SETTINGS_MODULE": "flueproof.shop.settings"}
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", LOADS], env=environment, check=True)
    return time.perf_counter() - began


def tell(what, values):
    print(f"{what:36} median {statistics.median(values):5.2f} s, slowest {max(values):5.2f} s", flush=True)


if __name__ == "__main__":
    main()
