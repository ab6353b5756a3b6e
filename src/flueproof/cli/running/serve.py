"""`flueproof serve`: the shop on the web, in one command."""

from __future__ import annotations

import sys
from pathlib import Path

import click


@click.command(short_help="Serve the shop: counter, bench, gas rack, papers.")
@click.option(
    "--data", default="flueproof-shop", show_default=True, metavar="DIR", help="The shop's files; made when missing."
)
@click.option("--host", default="127.0.0.1", show_default=True, help="0.0.0.0 lets other machines of the network in.")
@click.option("--port", type=click.IntRange(1, 65535), default=8321, show_default=True)
@click.option("--name", "names", multiple=True, metavar="NAME", help="A name the shop is reached by; may be repeated.")
@click.option("--https", is_flag=True, help="A proxy before it speaks HTTPS; cookies go over HTTPS only.")
@click.option(
    "--workers", type=click.IntRange(1, 64), default=1, show_default=True, help="Processes; above 1 on PostgreSQL only."
)
@click.option("--demo", is_flag=True, help="Fill an empty place with the invented demo shop first.")
@click.option("--open/--no-open", "opens", default=False, help="Open the browser when it is ready.")
def serve(
    data: str, host: str, port: int, names: tuple[str, ...], workers: int, *, https: bool, demo: bool, opens: bool
) -> None:
    """Serve the shop until Ctrl-C; SQLite in the data folder, or PostgreSQL by DATABASE_URL.

    Nobody can sign in at first: `flueproof person add NAME --role manager` makes the first person.
    """
    from flueproof.shop.serving.errors import ServingError
    from flueproof.shop.serving.starting import start
    from flueproof.shop.serving.surroundings import Place

    place = Place(Path(data), host, port, names, https=https, demo=demo)
    try:
        start(place, workers=workers, opens=opens, say=lambda text: click.echo(text, err=True))
    except ServingError as error:
        click.echo(f"flueproof serve: {error.message}. {error.remedy}", err=True)
        sys.exit(2)
