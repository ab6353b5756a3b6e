"""Every try is kept; the one that reached the owner ends the duty exactly once."""

import pytest
from django.utils import timezone

from flueproof.shop.records.duties.telling import DutyEndedError, DutyError, keep_act, need_not, open_again
from flueproof.shop.records.models import DutyAct


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.mark.parametrize(("way", "ends"), [("phone", True), ("in-person", True), ("e-mail", False), ("letter", False)])
def test_only_talking_ends_a_call_of_the_day(low, by, way, ends):
    keep_act(low, way, by, timezone.now(), whom="Ada Quay")
    low.refresh_from_db()
    assert (low.state == "told") is ends


@pytest.mark.parametrize("way", ["phone", "in-person", "e-mail", "letter"])
def test_any_way_is_enough_for_what_is_not_dangerous_by_itself(outside, by, way):
    keep_act(outside, way, by, timezone.now(), whom="Ada Quay")
    outside.refresh_from_db()
    assert outside.state == "told"


@pytest.mark.parametrize(
    ("way", "said"),
    [("phone", {}), ("in-person", {"whom": "  "}), ("not-reached", {}), ("note", {"words": " "}), ("pigeon", {})],
)
def test_what_says_too_little_is_not_kept(low, by, way, said):
    with pytest.raises(DutyError):
        keep_act(low, way, by, timezone.now(), **said)
    assert not DutyAct.objects.exists()


def test_the_second_gets_the_duty_as_it_stands(outside, people, by):
    keep_act(outside, "phone", people["manager"], timezone.now(), whom="Ada Quay")
    with pytest.raises(DutyEndedError) as caught:
        keep_act(outside, "phone", by, timezone.now(), whom="Ben")
    assert caught.value.duty.state == "told"
    assert outside.acts.count() == 1


def test_a_note_can_be_added_when_all_is_done(outside, by):
    keep_act(outside, "phone", by, timezone.now(), whom="Ada Quay")
    keep_act(outside, "note", by, timezone.now(), words="called back, all found")
    assert outside.acts.count() == 2


def test_the_job_remembers_who_was_told(outside, by):
    keep_act(outside, "phone", by, timezone.now(), whom="Ada Quay", words="will look")
    texts = list(outside.visit.job.moments.values_list("text", flat=True))
    assert any("Ada Quay" in text for text in texts)


def test_need_not_twice_is_once(outside, by):
    need_not(outside, "never used", by, timezone.now())
    need_not(outside, "pressed again", by, timezone.now())
    outside.refresh_from_db()
    assert (outside.why_not, outside.acts.count()) == ("never used", 1)


def test_opening_again_wants_a_reason_and_leaves_overtaken_ones(outside, by):
    keep_act(outside, "phone", by, timezone.now(), whom="Ada Quay")
    with pytest.raises(DutyError):
        open_again(outside, " ", by, timezone.now())
    assert open_again(outside, "wrong number", by, timezone.now()).state == "open"
    outside.refresh_from_db()
    outside.state = "overtaken"
    outside.save()
    with pytest.raises(DutyError, match="later finding"):
        open_again(outside, "why not", by, timezone.now())
