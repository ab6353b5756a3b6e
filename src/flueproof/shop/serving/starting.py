"""From a folder to a served shop."""

from __future__ import annotations

import os
import threading
import webbrowser
from collections.abc import Callable

from flueproof.shop.serving.building_demo import build_in_own_process
from flueproof.shop.serving.errors import ServingError
from flueproof.shop.serving.one_at_a_time import one_at_a_time
from flueproof.shop.serving.surroundings import Place, refuse_taken_port, set_surroundings


def set_up_django(place: Place) -> None:
    """Load Django for a place; the first thing any command of the shop does."""
    import django  # noqa: PLC0415 -- the environment must be set before Django loads

    set_surroundings(place)
    django.setup()


def _tell_who_may_sign_in(say: Callable[[str], None]) -> None:
    from flueproof.shop.demo_shop.password import DEMO_PASSWORD  # noqa: PLC0415 -- the demo's alone
    from flueproof.shop.demo_shop.scenario import scenario  # noqa: PLC0415

    people = ", ".join(f"{name} ({told['role']})" for name, told in scenario()["people"].items())
    say(f"Sign in as {people}; the password of all is {DEMO_PASSWORD}")


def let_go_of_the_database() -> None:
    """Close every connection and every pool of them, before workers are forked.

    A worker that inherits an open line to PostgreSQL reads answers meant for another one, and a pool whose threads
    stayed behind in this process never grows there.
    """
    from django.db import connections  # noqa: PLC0415 -- after set_up_django

    for line in connections.all(initialized_only=True):
        line.close()
        if hasattr(line, "close_pool"):
            line.close_pool()


def start(place: Place, *, workers: int, opens: bool, say: Callable[[str], None]) -> None:
    """Prepare everything and serve until stopped.

    Raises: ServingError.
    """
    refuse_taken_port(place)
    set_up_django(place)
    from django.db import connections  # noqa: PLC0415 -- after set_up_django

    from flueproof.shop.records.models import Person  # noqa: PLC0415
    from flueproof.shop.serving.preparing import bring_up_to_date, collect_static  # noqa: PLC0415
    from flueproof.shop.serving.server import run_server  # noqa: PLC0415

    if workers > 1 and connections["default"].vendor == "sqlite":
        raise ServingError("several workers need PostgreSQL", "Set DATABASE_URL, or leave --workers at 1.")
    with one_at_a_time():
        bring_up_to_date()
        collect_static()
    if place.demo and not Person.objects.exists():
        say("Building the invented demo shop ...")
        let_go_of_the_database()
        build_in_own_process()
    if not Person.objects.filter(is_active=True).exclude(role="owner").exists():
        say("Nobody can sign in yet. In another window: flueproof person add NAME --role manager")
    if place.demo:
        _tell_who_may_sign_in(say)
    let_go_of_the_database()
    say(f"Flueproof is ready at {place.address} (stop with Ctrl-C)")
    if opens and not os.environ.get("CI"):
        threading.Timer(1.0, webbrowser.open, (place.address,)).start()
    run_server(place, workers=workers)
