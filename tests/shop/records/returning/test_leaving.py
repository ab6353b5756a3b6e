"""One rule for every box that leaves: packed, tagged, paid, answered; a written reason where that is safe."""

import pytest

from flueproof.shop.records.jobs.box import hand_out
from flueproof.shop.records.jobs.moves import make_move
from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.mailing.questions import ask
from flueproof.shop.records.models import Job
from flueproof.shop.records.money.quotes import send_quote
from flueproof.shop.records.money.quoting import Wanted, write_quote
from flueproof.shop.records.returning.leaving import obstacles
from flueproof.shop.records.returning.paying import hold_for_money, note_paid
from flueproof.shop.records.returning.shipping import Parcel, ship


def codes(job):
    return [one.code for one in obstacles(Job.objects.select_related("owner", "analyzer").get(pk=job.pk))]


def test_a_packed_box_leaves_without_a_reason(leaving, pack, people, now):
    pack(leaving)
    assert codes(leaving) == []
    assert hand_out(leaving, "Ada Quay", ["probe"], people["counter"], now).state == "returned"
    assert not leaving.moments.filter(what="left all the same").exists()


def test_an_unpacked_box_needs_a_reason_which_is_kept(leaving, people, now):
    with pytest.raises(MoveRefusedError, match="pack-out is not finished"):
        hand_out(leaving, "Ada Quay", [], people["counter"], now)
    hand_out(leaving, "Ada Quay", [], people["counter"], now, "she waits here")
    assert leaving.moments.get(what="left all the same").text == "she waits here (The pack-out is not finished.)"


def test_money_holds_the_box_until_it_came(leaving, pack, people, now):
    pack(leaving)
    hold_for_money(leaving, "", people["counter"], now)
    assert codes(leaving) == ["payment"]
    note_paid(leaving, "transfer 771", people["counter"], now)
    assert codes(leaving) == []


def test_an_owner_who_pays_first_holds_every_box(leaving, pack, people, owner, now):
    owner.pays_first = True
    owner.save()
    leaving.refresh_from_db()
    pack(leaving)
    assert codes(leaving) == ["payment"]
    note_paid(leaving, "cash", people["counter"], now)
    assert codes(leaving) == []


def test_an_awaited_answer_and_a_quote_that_is_out_hold_it(leaving, pack, people, now):
    from decimal import Decimal

    pack(leaving)
    ask(leaving, "other", "hose", "Bin the old hose?", [], False, people["counter"], now, send=False)
    quote = write_quote(leaving, [Wanted("hose", Decimal("12.00"))], "", people["counter"], now)
    send_quote(quote, people["counter"], now)
    assert "question" in codes(leaving)
    assert "quote" in codes(leaving)


WAYS_OUT = {
    "by hand": lambda job, by, now, why: hand_out(job, "Ada", [], by, now, why),
    "by a carrier": lambda job, by, now, why: ship(job, Parcel("Coastline"), by, now, why),
    "by a program": lambda job, by, now, why: make_move(job, "returned", by, now, why),
}


@pytest.mark.parametrize("way", WAYS_OUT)
def test_without_its_tag_no_reason_lets_an_analyzer_out(signed_job, people, now, way):
    job = signed_job("verified-outside")
    with pytest.raises(MoveRefusedError, match="DO NOT USE tag"):
        WAYS_OUT[way](job, people["counter"], now, "the owner insists")
    job.refresh_from_db()
    assert job.state == "to-return"
    assert not job.moments.filter(what="left all the same").exists()


def test_with_its_tag_ticked_it_leaves(signed_job, pack, people, now, parcel):
    job = signed_job("verified-outside")
    pack(job)
    ship(job, parcel, people["counter"], now)
    assert Job.objects.get(pk=job.pk).state == "shipped"


def test_a_stolen_analyzer_goes_to_nobody(leaving, pack, people, now):
    pack(leaving)
    leaving.analyzer.whereabouts = "stolen"
    leaving.analyzer.save()
    with pytest.raises(MoveRefusedError, match="reported stolen"):
        hand_out(leaving, "a man with a van", [], people["counter"], now, "he seems nice")


def test_a_box_on_its_way_is_not_handed_out(leaving, pack, people, now, parcel):
    pack(leaving)
    ship(leaving, parcel, people["counter"], now)
    with pytest.raises(MoveRefusedError, match="on its way"):
        hand_out(leaving, "Ada", [], people["counter"], now, "x")


def test_a_program_moves_a_job_out_by_the_same_rule(leaving, people, now):
    with pytest.raises(MoveRefusedError, match="pack-out"):
        make_move(leaving, "returned", people["counter"], now)
    assert make_move(leaving, "returned", people["counter"], now, "fetched").state == "returned"
