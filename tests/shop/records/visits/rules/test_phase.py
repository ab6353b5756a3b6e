"""As found before as left, decided by the record (ISO/IEC 17025:2017, 7.8.4.1 d: results before and after)."""

import pytest

from flueproof.bench.errors import RecordError
from flueproof.shop.records.visits.acts.recording import record_step
from flueproof.shop.records.visits.events import Sender
from flueproof.shop.records.visits.judged import judged

PLUG = {"kind": "plug-test", "path": {"feed": "tip", "probe": "owner"}, "pump": "stalls"}
WORK = {
    "adjust": {"kind": "adjust", "channel": "co", "accepted": True},
    "part": {"kind": "part", "done": "replaced", "what": "pump", "opened_case": True},
    "upkeep": {"kind": "upkeep", "done": "cleaned"},
}


@pytest.mark.usefixtures("ready")
class TestPhase:
    @pytest.mark.parametrize("work", list(WORK))
    def test_an_as_found_step_after_work_is_refused_with_the_reason(self, add, gas, visit, work):
        gas(498)
        add(**WORK[work])
        with pytest.raises(RecordError, match=r"as found is closed|which changed the analyzer") as refused:
            add(phase="as-found", **PLUG)
        assert refused.value.path.endswith(".phase")
        assert judged(visit).phase == "as-left"

    def test_an_adjustment_that_was_refused_changes_no_phase(self, add, visit):
        add("adjust", channel="co", accepted=False)
        add(phase="as-found", **PLUG)
        assert judged(visit).phase == "as-found"

    def test_the_page_gives_the_phase_not_the_person(self, add, visit, people, began, page_id):
        add("upkeep", done="cleaned")
        told = {**PLUG, "phase": "as-found"}
        from django.utils import timezone

        event = record_step(visit, told, people["technician"], timezone.now(), Sender(page_id, 1))
        assert '"phase":"as-left"' in event.body

    def test_water_let_out_on_arrival_leaves_the_unit_as_found(self, add, visit):
        add("drain")
        assert judged(visit).phase == "as-found"

    def test_striking_the_work_opens_as_found_again(self, add, visit):
        work = add("upkeep", done="cleaned")
        add("strike", strikes=judged(visit).tree["steps"][-1]["id"], why="was another unit")
        assert work.kind == "step"
        assert judged(visit).phase == "as-found"
