"""The demo's shop, people and stations."""

from __future__ import annotations

from flueproof.shop.demo_shop.password import DEMO_PASSWORD
from flueproof.shop.demo_shop.scenario import scenario
from flueproof.shop.records.models import Owner, Person, Shop, Station
from flueproof.simulate.demo_visits.rack import demo_world


def make_shop() -> Shop:
    """Make the shop's own row."""
    shop = Shop.here()
    told = demo_world()["shop"]
    shop.name, shop.address, shop.method = told["name"], list(told["address"]), told["method"]
    shop.phone = "555-0100"
    shop.save()
    return shop


def make_people(firm: Owner) -> dict[str, Person]:
    """Make a person of each role; the external owner belongs to a firm."""
    people = {}
    for name, told in scenario()["people"].items():
        person = Person(username=name, first_name=told["first"], last_name=told["last"], role=told["role"])
        person.owner = firm if told["role"] == "owner" else None
        person.set_password(DEMO_PASSWORD)
        person.save()
        people[name] = person
    return people


def make_stations() -> list[Station]:
    """Make the places at the bench; each knows the id of the agent that may stand there."""
    names = scenario()["stations"]["names"]
    return [Station.objects.create(name=name, agent=name.lower().replace(" ", "-")) for name in names]
