"""The boxes of the demo: unknown ones, and one that waits for its hose."""

import datetime as dt
import random

from flueproof.shop.demo_shop.filling.boxes import fill_boxes
from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.intake.recognising import weigh_box
from flueproof.shop.records.models import Analyzer, Arrival, BoxPhoto, Job, OwnerQuestion, PhoneCall


def awaited(number, owner, unit, now):
    return Job.objects.create(number=f"J-2026-{number:05d}", owner=owner, analyzer=unit, opened_at=now)


def test_a_worn_plate_a_stranger_and_a_missing_hose(people, owner, analyzer, shop, now):
    other = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="O5-30028")
    first, second = awaited(1, owner, analyzer, now), awaited(2, owner, other, now - dt.timedelta(days=1))
    fill_boxes(Scene(shop, {"marsh": people["counter"]}, {}, {}, now, 0, random.Random(1)))  # noqa: S311 -- invented data
    hose, worn, stranger = Arrival.objects.order_by("id")
    assert (hose.job, hose.state) == (first, "known")
    assert BoxPhoto.objects.filter(arrival=hose).count() == 2
    assert OwnerQuestion.objects.get().subject == "hose"
    assert worn.clues["serial"] == "O5-30?28"
    assert weigh_box(worn.clues, now).best.analyzer.key == second.analyzer_id
    assert weigh_box(stranger.clues, now).is_stranger
    assert PhoneCall.objects.get().owner == owner


def test_without_an_awaited_job_only_the_stranger_stands_there(people, shop, now):
    fill_boxes(Scene(shop, {"marsh": people["counter"]}, {}, {}, now, 0, random.Random(1)))  # noqa: S311 -- invented data
    assert Arrival.objects.get().state == "open"
