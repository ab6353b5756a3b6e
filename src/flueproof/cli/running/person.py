"""`flueproof person add`: the first person of a shop, or one more, from the shop's own machine."""

from __future__ import annotations

import sys
from pathlib import Path

import click

_ROLES = ("counter", "technician", "signer", "manager")


@click.group(short_help="Add people who may sign in.")
def person() -> None:
    """People of the shop. Everything else about them is on the House page."""


@person.command(short_help="Add a person; asks for the password.")
@click.argument("name")
@click.option("--role", type=click.Choice(_ROLES), default="technician", show_default=True)
@click.option("--first-name", default="", help="As it stands on papers.")
@click.option("--last-name", default="", help="As it stands on papers.")
@click.option("--data", default="flueproof-shop", show_default=True, metavar="DIR", help="The shop's files.")
@click.option("--password", prompt=True, hide_input=True, confirmation_prompt=True, help="Asked for when left out.")
def add(name: str, role: str, first_name: str, last_name: str, data: str, password: str) -> None:
    """Add NAME (what they type to sign in)."""
    from flueproof.shop.serving.starting import set_up_django
    from flueproof.shop.serving.surroundings import Place

    set_up_django(Place(Path(data)))
    from django.contrib.auth.password_validation import validate_password
    from django.core.exceptions import ValidationError

    from flueproof.shop.records.models import Person
    from flueproof.shop.serving.preparing import bring_up_to_date

    bring_up_to_date()
    row = Person(username=name, role=role, first_name=first_name, last_name=last_name)
    try:
        validate_password(password, row)
        row.set_password(password)
        row.full_clean()
    except ValidationError as error:
        click.echo(f"flueproof person add: {' '.join(error.messages)}", err=True)
        sys.exit(2)
    row.save()
    click.echo(f"{name} may sign in as {role}.")
