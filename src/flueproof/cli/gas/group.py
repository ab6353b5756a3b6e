"""`flueproof gas`: its three commands."""

from __future__ import annotations

import click

from flueproof.cli.gas.contents import contents
from flueproof.cli.gas.decide import decide
from flueproof.cli.gas.expiry import expiry


@click.group(short_help="Contents, expiry and deciding power of test gas.")
def gas() -> None:
    """What is left in a bottle, how long its certificate holds, and what it can decide.

    Test gas is under pressure and mostly poisonous: secure the cylinder, vent outdoors or to a hood, keep a CO alarm on
    the bench. Local codes and licensed practice come first.
    """


gas.add_command(contents)
gas.add_command(expiry)
gas.add_command(decide)
