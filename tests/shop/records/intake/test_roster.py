"""The database answers the ranking as the core's own list in memory does, and follows every change at once."""

import pytest
from django.utils import timezone

from flueproof.intake.clues import Clues
from flueproof.intake.ranking import rank
from flueproof.shop.records.intake.recognising import weigh_box
from flueproof.shop.records.intake.roster import DatabaseRoster
from flueproof.shop.records.models import (
    Analyzer,
    Job,
    Owner,
    OwnerAddress,
    OwnerContact,
    RequestedAnalyzer,
    ServiceRequest,
)
from flueproof.simulate.arrivals.arriving import draw_arrivals
from flueproof.simulate.arrivals.filing import TODAY, World

from .filled import clues_of, counter_person, fill, in_memory


@pytest.fixture
def world(shop):
    made = World(120, 5)
    return made, *fill(made, counter_person())


def test_it_ranks_as_the_list_in_memory_does(world):
    made, owners, units = world
    memory = in_memory(made, owners, units)
    boxes = list(draw_arrivals(made, 25))
    for box in boxes:
        clues = Clues.from_mapping(clues_of(box))
        mine, theirs = rank(clues, DatabaseRoster(TODAY), TODAY), rank(clues, memory, TODAY)
        assert mine.stranger == pytest.approx(theirs.stranger, abs=1e-6)
        assert [one.owner.key for one in mine.owners[:3]] == [one.owner.key for one in theirs.owners[:3]]
        assert [one.probability for one in mine.candidates[:5]] == pytest.approx(
            [one.probability for one in theirs.candidates[:5]], abs=1e-6
        )


def test_what_it_counts_is_what_the_list_in_memory_counts(world):
    made, owners, units = world
    memory, mine = in_memory(made, owners, units), DatabaseRoster(TODAY)
    mails = {mail for firm in made.file.owners for mail in firm.emails}
    asked = {*mails, *(mail.partition("@")[2] for mail in mails), "nobody@nowhere.example", "nowhere.example"}
    counts = {mail: mine.mail_counts(mail.upper()) for mail in asked}
    assert counts == {mail: memory.mail_counts(mail) for mail in asked}
    assert any("@" in mail and counts[mail.partition("@")[2]] > counts[mail] for mail in mails)  # the address itself
    codes = {place.postcode for firm in made.file.owners for place in firm.places}
    assert mine.place_counts(codes, {"9"}, ()) == memory.place_counts(codes, {"9"}, ())
    assert mine.totals(TODAY) == memory.totals(TODAY)


def test_it_knows_the_right_owner_of_most_boxes(world):
    """A small shop and few boxes: this only sees that every clue arrives; the figures are in benchmarks/."""
    made, owners, _ = world
    boxes = [box for box in draw_arrivals(made, 40) if box.kind == "known_analyzer"]
    right = 0
    for box in boxes:
        found = rank(Clues.from_mapping(clues_of(box)), DatabaseRoster(TODAY), TODAY)
        right += not found.is_stranger and found.owners[0].owner.key == owners[box.owner].pk
    assert right >= 0.8 * len(boxes)


def test_a_change_is_seen_at_once(world, now):
    _, owners, units = world
    clues = {"serial": "ZZTOP-991", "name": "Quillfeather Furnace", "phone": "010-555-9911"}
    assert weigh_box(clues, now).is_stranger
    firm = Owner.objects.create(name="Quillfeather Furnace (invented)")
    OwnerContact.objects.create(owner=firm, name="Q.", phone="010-555-9911")
    OwnerAddress.objects.create(owner=firm, lines="1 Mill Lane", postcode="99911", town="Quill")
    unit = Analyzer.objects.create(owner=firm, make=units[0].make, model=units[0].model, serial="ZZTOP-991")
    found = weigh_box(clues, now)
    assert (found.best.owner.key, found.best.analyzer.key) == (firm.pk, unit.pk)
    assert found.best.probability > 0.9
    unit.owner = owners[0]
    unit.save()
    kinds = {(one.kind, one.owner.key) for one in weigh_box(clues, now).candidates}
    assert ("sold-on", firm.pk) in kinds
    assert ("known", owners[0].pk) in kinds


def test_an_owner_that_was_merged_is_found_by_its_old_name(world, now):
    _, owners, _ = world
    old = Owner.objects.create(name="Pemberwick Boilers (invented)", merged_into=owners[3])
    OwnerContact.objects.create(owner=old, name="P. Wick", phone="010-555-4477")
    found = weigh_box({"name": "Pemberwick Boilers", "phone": "010 555 4477"}, now)
    assert found.owners[0].owner.key == owners[3].pk
    assert found.owners[0].owner.name == owners[3].name


def test_a_former_name_counts_after_a_firm_was_renamed(world, now):
    _, owners, _ = world
    owners[4].name = "Wexcombe Heat"
    owners[4].save()
    owners[4].name = "Something Else"
    owners[4].save()
    shares = {one.owner.key: one for one in weigh_box({"name": "Wexcombe Heat"}, now).owners}
    said = [reason.words for reason in shares[owners[4].pk].best.reasons]
    assert "their former name, Wexcombe Heat" in said


def test_a_sender_that_is_no_owner_yet_is_known_by_the_request(world, now):
    request = ServiceRequest.objects.create(
        code="R-1", state="confirmed", firm="Thornaby Stoves (invented)", phone="010-555-6161", made_at=timezone.now()
    )
    RequestedAnalyzer.objects.create(request=request, slip="AAAA-1111", make="Orrin", model="5", serial="TH-0099")
    found = weigh_box({"serial": "TH-0099", "name": "Thornaby Stoves"}, now)
    assert (found.best.kind, found.best.owner.on_file) == ("requested", False)
    assert found.best.owner.key == ("request", request.pk)


def test_the_shops_own_control_analyzer_is_nobodys(world, now):
    _, owners, _ = world
    Analyzer.objects.create(owner=owners[0], make="Orrin", model="5", serial="CTRL-777", control_unit=True)
    keys = [one.analyzer and one.analyzer.serial for one in weigh_box({"serial": "CTRL-777"}, now).candidates]
    assert "CTRL-777" not in keys


def test_an_empty_shop_and_odd_text_are_no_trouble(db, now, shop):
    assert weigh_box({}, now).is_stranger
    assert weigh_box({"serial": "?*?*\0", "name": "😀'; --", "phone": "++", "email": "@"}, now).is_stranger


def test_one_question_costs_few_queries(world, now, django_assert_max_num_queries):
    made, *_ = world
    clues = clues_of(next(iter(draw_arrivals(made, 1))))
    weigh_box(clues, now)
    with django_assert_max_num_queries(24):
        weigh_box(clues, now)


def test_of_two_plates_that_fit_the_one_that_is_here_already_comes_last(world, now):
    _, owners, units = world
    make, model = units[0].make, units[0].model
    one, other = (
        Analyzer.objects.create(owner=owners[place], make=make, model=model, serial=serial)
        for place, serial in ((0, "ZZTOP-9918"), (1, "ZZTOP-9913"))
    )
    job = Job.objects.create(number="J-2026-90001", owner=owners[0], analyzer=one, opened_at=now, state="bench")
    found = weigh_box({"serial": "ZZTOP-991?"}, now)
    assert found.best.analyzer.key == other.pk
    # With its serial read to the end it is the one all the same: a second box of it; and the page says that it is here.
    again = weigh_box({"serial": "ZZTOP-9918"}, now).best
    assert (again.analyzer.key, again.analyzer.here_as) == (one.pk, job.number)
    assert f"it is here already, as {job.number}" in [reason.words for reason in again.reasons]
    assert again.probability > 0.5
