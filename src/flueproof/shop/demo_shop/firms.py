"""The demo's owners and their analyzers."""

from __future__ import annotations

import datetime as dt
import random
from typing import Any, Final

from flueproof.papers.due import due_date
from flueproof.shop.demo_shop.scenario import scenario
from flueproof.shop.records.keeping.plate_key import name_key, phone_key
from flueproof.shop.records.models import Analyzer, Cell, Obligation, Owner, OwnerAddress, OwnerContact
from flueproof.simulate.demo_visits.rack import demo_world

OWNERS: Final = 40
ANALYZERS: Final = 160
_PROFILE_SHARES: Final = {
    "two-cell-residential": 0.62,
    "hydrogen-compensated-co": 0.18,
    "three-cell-light-commercial": 0.14,
    "infrared-co2-co-high-range": 0.06,
}


def make_owners(chance: random.Random) -> list[Owner]:
    """Make the firms: the four that the demo records name first."""
    known = [(told["name"], told["address"]) for told in demo_world()["owners"].values()]
    words, places = scenario()["firms"], scenario()["places"]
    names = [f"{first} {second} (invented)" for first in words["first"] for second in words["second"]]
    for name in chance.sample(names, OWNERS - len(known)):
        street = f"{chance.randint(1, 90)} {chance.choice(places['streets'])}"
        known.append((name, [street, chance.choice(places["towns"])]))
    owners = [
        Owner(
            name=name,
            name_key=name_key(name),
            number=f"K-{101 + index}",
            due_agreed=index < 4 or chance.random() < 0.8,
            due_rule="month-end" if index % 5 == 3 else "day",
            call_first=index % 7 == 2,
        )
        for index, (name, _) in enumerate(known)
    ]
    made: list[Owner] = Owner.objects.bulk_create(owners)
    OwnerAddress.objects.bulk_create(
        [
            OwnerAddress(owner=owner, lines=lines[0], town=lines[-1])
            for owner, (_, lines) in zip(made, known, strict=True)
        ]
    )
    OwnerContact.objects.bulk_create([_contact(owner, chance, number) for number, owner in enumerate(made)])
    return made


def _contact(owner: Owner, chance: random.Random, number: int) -> OwnerContact:
    persons = scenario()["persons"]
    name = f"{chance.choice(persons['first'])} {chance.choice(persons['last'])}"
    phone = f"555-01{number:02d}"
    mail = f"{name.split(maxsplit=1)[0].lower()}@{owner.name.split(maxsplit=1)[0].lower()}.example"
    return OwnerContact(owner=owner, name=f"{name} (invented)", phone=phone, phone_key=phone_key(phone), email=mail)


def make_analyzers(owners: list[Owner], taken: int, today: dt.date, chance: random.Random) -> list[Analyzer]:
    """Make analyzers until, with those of the demo records (`taken`), there are ANALYZERS; and the control analyzer."""
    profiles = chance.choices(list(_PROFILE_SHARES), list(_PROFILE_SHARES.values()), k=ANALYZERS - taken - 1)
    rows = [_analyzer(chance.choice(owners), name, 30000 + number) for number, name in enumerate(profiles)]
    control = _analyzer(owners[0], "two-cell-residential", 1)
    control.control_unit, control.note = True, "The shop's own: on gas every morning."
    made: list[Analyzer] = Analyzer.objects.bulk_create([control, *rows])
    cells, due = [], []
    for analyzer in made:
        fitted = today - dt.timedelta(days=chance.randint(30, 1300))
        cells += [
            Cell(analyzer=analyzer, gas=gas, serial=f"{gas.upper()}-{analyzer.serial[-5:]}", fitted=fitted)
            for gas in demo_world()["analyzers"][analyzer.profile]["cells"]
        ]
        if analyzer.owner.due_agreed and not analyzer.control_unit:
            due.append(_obligation(analyzer, today - dt.timedelta(days=chance.randint(20, 380))))
    Cell.objects.bulk_create(cells)
    Obligation.objects.bulk_create(due)
    return made


def _analyzer(owner: Owner, profile: str, number: int) -> Analyzer:
    told: dict[str, Any] = demo_world()["analyzers"][profile]
    row = Analyzer(
        owner=owner,
        make=told["make"],
        model=told["model"],
        serial=f"{told['serial']}-{number:05d}",
        profile=profile,
        firmware=told["firmware"],
    )
    row.fill_keys()
    return row


def _obligation(analyzer: Analyzer, done: dt.date) -> Obligation:
    owner = analyzer.owner
    return Obligation(
        analyzer=analyzer,
        months=owner.due_months,
        rule=owner.due_rule,
        agreed_by="on the phone (invented)",
        agreed_on=done,
        last_done=done,
        next_due=due_date(done, owner.due_months, owner.due_rule),
    )
