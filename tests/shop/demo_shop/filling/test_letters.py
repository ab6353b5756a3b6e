"""The e-mails of the demo: written through the services, none waiting to leave."""

import random

import pytest

from flueproof.shop.demo_shop.filling.letters import fill_letters
from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.models import Analyzer, Job, Letter, OwnerQuestion


@pytest.fixture
def scene(shop, owner, people, now):
    """A shop with two jobs in each of three states."""
    for number, state in enumerate(["arrived", "bench", "to-return"] * 2):
        unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"O5-{number}")
        Job.objects.create(number=f"J-2026-{number:05}", owner=owner, analyzer=unit, state=state, opened_at=now)
    chance = random.Random(1)  # noqa: S311 -- invented data, the same each time
    return Scene(shop, {"marsh": people["counter"]}, {}, {owner.name: owner}, now, 0, chance)


def test_the_demo_has_letters_of_several_kinds_and_none_leaves(scene):
    fill_letters(scene)
    kinds = Letter.objects.values_list("kind", "state")
    assert sorted(kinds) == [
        ("box-arrived", "sent"),
        ("box-arrived", "sent"),
        ("letter", "bounced"),
        ("question", "sent"),
        ("ready", "sent"),
    ]
    assert OwnerQuestion.objects.get().state == "answered"
    assert all("https://bench.example/answer/" in letter.text for letter in Letter.objects.filter(kind="ready"))


def test_an_empty_demo_gets_none(scene):
    for job in Job.objects.all():
        job.state = "dropped"
        job.save()
    fill_letters(scene)
    assert not Letter.objects.exists()
