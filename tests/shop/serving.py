"""The real production server as a subprocess, for tests of live pages, kills and browsers.

    with running_shop(tmp_path) as shop:
        shop.address                       # http://127.0.0.1:PORT
        shop.python("from ... import ...")  # run code in the shop's own Django, returns what it printed
        shop.kill(); shop.start()          # SIGKILL, and up again on the same data

With DATABASE_URL set each shop gets a PostgreSQL database of its own, dropped at the end.
"""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
import uuid
from urllib.parse import urlsplit, urlunsplit


class RunningShop:
    """One shop: a data folder (or database), a port, a server process."""

    def __init__(self, folder, environment, port):
        self.folder, self.environment, self.port = folder, environment, port
        self.address = f"http://127.0.0.1:{port}"
        self.process = None

    def python(self, code, *arguments):
        """Run Python code with the shop's Django set up; return what it printed. Fails when the code fails."""
        prelude = "import django; django.setup()\n"
        done = subprocess.run(
            [sys.executable, "-W", "ignore", "-c", prelude + code, *arguments],
            env={**self.environment, "DJANGO_SETTINGS_MODULE": "flueproof.shop.settings"},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr[-4000:]
        return done.stdout

    def start(self, workers=1):
        """Start the server and wait until it answers."""
        log = (self.folder / "serve.log").open("a")
        command = [sys.executable, "-m", "flueproof.cli", "serve", "--data", str(self.folder / "data"), "--port"]
        self.process = subprocess.Popen(
            [*command, str(self.port), "--workers", str(workers)],
            env=self.environment,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )
        log.close()
        self.wait()
        return self

    def wait(self, seconds=40):
        """Wait until the sign-in page answers."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            assert self.process.poll() is None, (self.folder / "serve.log").read_text()[-4000:]
            with contextlib.suppress(OSError), urllib.request.urlopen(self.address + "/sign-in", timeout=2) as answer:
                if answer.status == 200:
                    return
            time.sleep(0.05)
        raise AssertionError("the server did not answer: " + (self.folder / "serve.log").read_text()[-4000:])

    @contextlib.contextmanager
    def beside(self, workers=1):
        """Serve the same data with a second server at a port of its own, as a second `flueproof serve` would."""
        other = RunningShop(self.folder, self.environment, free_port())
        try:
            yield other.start(workers)
        finally:
            other.kill()

    def kill(self, how=signal.SIGKILL):
        """Kill the server with all its processes, as a pulled plug would."""
        if self.process is not None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self.process.pid, how)
            self.process.wait()
            self.process = None


def free_port():
    """Return a port that nothing listens at."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextlib.contextmanager
def own_database(environment):
    """Give the environment a PostgreSQL database of its own when it names a server, and drop it at the end."""
    address = environment.get("DATABASE_URL", "")
    if not address.startswith("postgres"):
        yield environment
        return
    import psycopg

    name = f"shop_{uuid.uuid4().hex[:12]}"
    parts = urlsplit(address)
    with psycopg.connect(address, autocommit=True) as door:
        door.execute(f'CREATE DATABASE "{name}"')
    try:
        yield {**environment, "DATABASE_URL": urlunsplit(parts._replace(path="/" + name))}
    finally:
        with psycopg.connect(address, autocommit=True) as door:
            door.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')


@contextlib.contextmanager
def running_shop(folder, *, make="", serve=True):
    """Start a shop in a folder; `make` is Python code run in its Django (tables are there) before it serves."""
    away = ("DJANGO_SETTINGS_MODULE", "COV_CORE_SOURCE", "COV_CORE_CONFIG", "COV_CORE_DATAFILE")
    base = {name: value for name, value in os.environ.items() if name not in away}
    base["FLUEPROOF_DATA"] = str(folder / "data")
    with own_database(base) as environment:
        shop = RunningShop(folder, environment, free_port())
        (folder / "data").mkdir(parents=True, exist_ok=True)
        try:
            shop.python("from flueproof.shop.serving.preparing import bring_up_to_date; bring_up_to_date()\n" + make)
            yield shop.start() if serve else shop
        finally:
            shop.kill()
