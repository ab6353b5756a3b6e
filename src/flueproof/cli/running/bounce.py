"""`flueproof bounce`: a mail server's report of an e-mail that did not arrive, from its pipe or a file."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import BinaryIO

import click

TRY_AGAIN = 75  # EX_TEMPFAIL of sysexits.h: a mail server keeps the message and calls again


@click.command(short_help="Mark an e-mail that came back.")
@click.argument("message", type=click.File("rb"), default="-")
@click.option("--data", default="flueproof-shop", show_default=True, metavar="DIR", help="The shop's files.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def bounce(message: BinaryIO, data: str, *, as_json: bool) -> None:
    """Read MESSAGE, an e-mail from the shop's mailbox (- for standard input), and mark the e-mail that it reports.

    Any other e-mail changes nothing. The exit code is 0 when it was read, 2 when it is no message, and 75 when the
    shop's database did not answer, so that the mail server tries again.
    """
    from flueproof.shop.serving.starting import set_up_django
    from flueproof.shop.serving.surroundings import Place

    if not os.environ.get("DATABASE_URL") and not (Path(data) / "shop.sqlite3").exists():
        click.echo(f"flueproof bounce: there is no shop in {data}. Name its folder with --data.", err=True)
        sys.exit(2)
    set_up_django(Place(Path(data)))
    from django.db import DatabaseError
    from django.utils import timezone

    from flueproof.shop.records.mailing.returned.marking import mark_returned
    from flueproof.shop.records.mailing.returned.report import LARGEST, ReportError

    try:
        marked = mark_returned(message.read(LARGEST + 1), timezone.now())
    except ReportError as error:
        click.echo(f"flueproof bounce: {error}. Give the whole message, with its head.", err=True)
        sys.exit(2)
    except DatabaseError as error:
        click.echo(f"flueproof bounce: the database does not answer: {error}", err=True)
        sys.exit(TRY_AGAIN)
    letter = marked.letter.pk if marked.letter is not None else None
    click.echo(
        json.dumps({"marked": letter is not None, "letter": letter, "words": marked.words}) if as_json else marked.words
    )
