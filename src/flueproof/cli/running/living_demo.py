"""The living demo shop: served until Ctrl-C, or only looked at once (`--check`)."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Final

import click

from flueproof.cli.running.visitor import Visitor

FIRST_PORT: Final = 8321
_PORTS: Final = 20
_READY_S: Final = 60.0
_OK: Final = 200
# What each person of the demo looks at first.
_LOOKED_AT: Final = {
    "marsh": ("/",),
    "vale": ("/", "/bench/", "/gas/"),
    "alder": ("/", "/papers/"),
    "reed": ("/", "/house/people"),
}


def free_port() -> int:
    """Return the first port from FIRST_PORT on at which nothing listens."""
    for port in range(FIRST_PORT, FIRST_PORT + _PORTS):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)):
                return port
    raise click.ClickException(f"no free port from {FIRST_PORT} to {FIRST_PORT + _PORTS - 1}; give one with --port")


def serve_demo(data: Path, port: int | None, *, fresh: bool, opens: bool) -> None:
    """Serve the demo shop in a folder until stopped; built first when the folder is empty or `fresh`."""
    from flueproof.shop.serving.errors import ServingError
    from flueproof.shop.serving.starting import start
    from flueproof.shop.serving.surroundings import Place

    _forget(data, fresh=fresh)
    try:
        place = Place(data, port=port or free_port(), demo=True)
        start(place, workers=1, opens=opens, say=lambda text: click.echo(text, err=True))
    except ServingError as error:
        click.echo(f"flueproof demo: {error.message}. {error.remedy}", err=True)
        sys.exit(2)


def check_demo(data: Path, port: int | None, *, fresh: bool) -> bool:
    """Serve the demo shop in another process, look at pages as each role and sign a paper; True when all went well."""
    _forget(data, fresh=fresh)
    port, began = port or free_port(), time.perf_counter()
    command = [sys.executable, "-m", "flueproof.cli", "serve", "--demo", "--data", str(data), "--port", str(port)]
    server = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)  # noqa: S603 -- our own program
    try:
        address = f"http://127.0.0.1:{port}"
        if not _ready(server, address):
            click.echo("the demo shop did not come up", err=True)
            return False
        click.echo(f"the demo shop is ready after {time.perf_counter() - began:.1f} s")
        looked = [_looks(address, name, paths) for name, paths in _LOOKED_AT.items()]
        return all([*looked, _signs(address, "alder")])
    finally:
        server.terminate()
        _, said = server.communicate(timeout=20)
        if "Traceback" in said:
            click.echo(said, err=True)


def _forget(data: Path, *, fresh: bool) -> None:
    if fresh and data.exists() and not os.environ.get("DATABASE_URL"):
        shutil.rmtree(data)


def _ready(server: subprocess.Popen[str], address: str) -> bool:
    end = time.monotonic() + _READY_S
    while time.monotonic() < end and server.poll() is None:
        try:
            with urllib.request.urlopen(address + "/sign-in", timeout=5):  # noqa: S310 -- our own server
                return True
        except OSError:
            time.sleep(0.1)
    return False


def _looks(address: str, name: str, paths: tuple[str, ...]) -> bool:
    """Sign in as a person and fetch pages; say each that did not come."""
    visitor = Visitor(address)
    came = True
    try:
        visitor.sign_in(name)
        for path in paths:
            answered, at = visitor.fetch(path)
            if answered != _OK or "/sign-in" in at:
                came = False
                click.echo(f"{name}: {path} answered {answered} at {at}", err=True)
    except OSError as error:
        came = False
        click.echo(f"{name}: {error}", err=True)
    click.echo(f"{name}: {len(paths)} pages {'came' if came else 'did not all come'}")
    return came


def _signs(address: str, name: str) -> bool:
    """Sign what waits first for a signature as a person would; say what came of it."""
    visitor = Visitor(address)
    signed = ""
    try:
        visitor.sign_in(name)
        visitor.fetch("/?state=to-sign")
        waits = re.search(r'href="(/papers/sign/[^"]+)"', visitor.page)
        if waits:
            visitor.fetch(waits.group(1))
            visitor.send(waits.group(1), password=visitor.password)
            paper = re.search(r"<h1[^>]*>.*?(FP-[0-9-]+)", visitor.page, re.DOTALL)
            signed = paper.group(1) if paper else ""
    except OSError as error:
        click.echo(f"{name}: {error}", err=True)
    click.echo(f"{name}: signed {signed}" if signed else f"{name}: nothing could be signed", err=not signed)
    return bool(signed)
