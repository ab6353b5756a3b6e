"""`flueproof schema`: the JSON Schema of what goes in and what comes out."""

from __future__ import annotations

import click

from flueproof.cli.words.console import print_json
from flueproof.cli.words.faults import refusing


@click.command(short_help="Print the JSON Schema of records or judgements.")
@click.argument("which", type=click.Choice(["record", "judgement"]), default="record")
@click.option("--json", "as_json", is_flag=True, help="On one line.")
def schema(which: str, *, as_json: bool) -> None:
    """Print the JSON Schema (2020-12) of the bench record, or of the judgement."""
    with refusing(as_json=as_json):
        if which == "record":
            from flueproof.bench.record.schema import record_schema

            told = record_schema()
        else:
            from flueproof.cli.words.judgement_schema import judgement_schema

            told = judgement_schema()
        print_json(told, indent=None if as_json else 2)
