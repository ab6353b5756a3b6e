"""A box is closed when each part and each check is settled, and opened by what comes after."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import move_job
from flueproof.shop.records.models import Job, PackOut
from flueproof.shop.records.returning.pack_out import Packed, PackOutError, close_box, keep_packing, packing_of
from flueproof.shop.records.returning.packing import NO, YES


def test_a_box_with_all_ticked_is_closed_once(leaving, pack, people, now):
    row = pack(leaving)
    assert row.done_at == now
    assert packing_of(leaving).done
    close_box(leaving, people["counter"], now)
    assert leaving.moments.filter(what="packed").count() == 1
    assert "in the box: probe, hose, trap, air sensor" in leaving.moments.get(what="packed").text


def test_every_open_thing_is_named(leaving, people, now):
    with pytest.raises(PackOutError) as refused:
        close_box(leaving, people["counter"], now)
    said = " ".join(refused.value.lines)
    for word in ("probe", "hose", "trap", "air sensor", "Settings", "photo"):
        assert word in said
    assert not PackOut.objects.exists()


def test_a_part_stays_only_with_a_reason(leaving, pack):
    with pytest.raises(PackOutError, match="hose: goes back, or stays"):
        pack(leaving, goes_back=["probe", "trap", "air sensor"])
    pack(leaving, goes_back=["probe", "trap", "air sensor"], stays={"hose": "burst, owner agreed to bin it"})
    assert "hose stays: burst" in leaving.moments.get(what="packed").text


def test_a_check_is_left_undone_only_with_a_reason(leaving, pack):
    with pytest.raises(PackOutError, match="A photo"):
        pack(leaving, photo=("", ""))
    pack(leaving, photo=(NO, "camera broken"))
    assert "camera broken" in leaving.moments.get(what="packed").text


def test_a_part_that_never_came_cannot_be_packed_and_an_unknown_check_is_refused(leaving, people):
    row = keep_packing(leaving, Packed({}, ["probe", "gold bar"], {"gold bar": "kept"}), people["counter"])
    assert (row.goes_back, row.stays) == (["probe"], {})
    with pytest.raises(PackOutError, match="no answer"):
        keep_packing(leaving, Packed({"nonsense": (YES, "")}), people["counter"])


def test_only_what_is_to_go_back_is_packed(job, people, now):
    with pytest.raises(PackOutError, match="to go back"):
        close_box(job, people["counter"], now)


def test_work_after_the_packing_opens_the_box_again(leaving, pack, people, back_to_bench, now):
    pack(leaving)
    later = now + dt.timedelta(hours=1)
    back_to_bench(leaving)
    move_job(leaving, "to-sign", people["technician"], later)
    move_job(leaving, "to-return", people["signer"], later)
    leaving.refresh_from_db()
    found = packing_of(leaving)
    assert not found.done
    assert found.missing() == []  # what was ticked stands; somebody looks and closes again
    close_box(leaving, people["counter"], later)
    assert packing_of(leaving).done


def test_a_part_found_after_the_packing_opens_the_box_again(leaving, pack):
    pack(leaving)
    leaving.enclosed = [*leaving.enclosed, "charger"]
    leaving.save()
    assert not packing_of(leaving).done


def test_parts_changed_are_kept_with_the_job(leaving, people, now, pack):
    found = pack(leaving, close=False)
    answers = {line.check.name: (YES, "") for line in found.lines if not line.check.says}
    parts = [part.name for part in found.parts]
    keep_packing(leaving, Packed(answers, parts, {}, "CO cell new, old one in the bag"), people["counter"])
    close_box(leaving, people["counter"], now)
    assert Job.objects.get(pk=leaving.pk).parts_changed == "CO cell new, old one in the bag"


def test_keeping_the_same_again_keeps_the_box_closed(leaving, pack, people):
    pack(leaving)
    found = packing_of(leaving)
    ticked = {line.check.name: (line.answer, line.why) for line in found.lines if not line.check.says}
    parts = [part.name for part in found.parts]
    keep_packing(leaving, Packed(ticked, parts, {}), people["counter"])
    assert packing_of(leaving).done
    keep_packing(leaving, Packed(ticked, parts[1:], {parts[0]: "owner bins it"}), people["counter"])
    assert not packing_of(leaving).done
