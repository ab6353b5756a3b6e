"""`flueproof backup` and `flueproof restore`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import click

_DATA = click.option("--data", default="flueproof-shop", show_default=True, metavar="DIR", help="The shop's files.")


@click.command(short_help="Write a backup while the shop works.")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@_DATA
def backup(file: Path, data: str) -> None:
    """Write everything the shop keeps into FILE, a zip archive for either database.

    The shop may go on working. FILE holds personal data and password hashes: keep it as safe as the shop itself.
    """
    if not file.parent.is_dir():
        _refuse("backup", f"{file.parent} is no folder.", "Make it first.")
    _with_django("backup", data, existing=True, work=lambda: _backup(file))


@click.command(short_help="Read a backup into an empty place.")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@_DATA
def restore(file: Path, data: str) -> None:
    """Read FILE into an empty place: a new --data folder, or an empty database named by DATABASE_URL.

    All rows, file hashes and hash chains are checked; when anything is wrong, nothing is kept.
    """
    _with_django("restore", data, existing=False, work=lambda: _restore(file))


def _backup(file: Path) -> None:
    from django.utils import timezone

    from flueproof.shop.serving.archive.writing import write_backup

    written = write_backup(file, timezone.now())
    click.echo(f"{file}: {written.rows} rows of {written.tables} tables, {written.size / 1e6:.1f} MB")


def _restore(file: Path) -> None:
    from flueproof.shop.serving.archive.checking import check_backup
    from flueproof.shop.serving.archive.reading import restore_backup

    counts = restore_backup(check_backup(file))  # looked at before the place gets tables: a wrong file leaves none
    click.echo(f"{sum(counts.values())} rows of {len(counts)} tables restored; file hashes and hash chains hold")


def _with_django(command: str, data: str, *, existing: bool, work: Callable[[], None]) -> None:
    import os

    from flueproof.shop.serving.errors import ServingError
    from flueproof.shop.serving.starting import set_up_django
    from flueproof.shop.serving.surroundings import Place

    if existing and not os.environ.get("DATABASE_URL") and not (Path(data) / "shop.sqlite3").exists():
        _refuse(command, f"there is no shop in {data}.", "Name its folder with --data.")
    set_up_django(Place(Path(data)))
    try:
        work()
    except ServingError as error:
        _refuse(command, f"{error.message}.", error.remedy)


def _refuse(command: str, message: str, remedy: str) -> None:
    click.echo(f"flueproof {command}: {message} {remedy}", err=True)
    sys.exit(2)
