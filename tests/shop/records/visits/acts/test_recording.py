"""Recording a step: once, validated, with its reference and what else follows."""

import pytest
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.models import Application, Cell
from flueproof.shop.records.visits.acts.recording import record_step
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.events import Sender, SentDifferentlyError
from flueproof.shop.records.visits.judged import judged

NOTE = {"kind": "note", "text": "seen"}
ROOM = {"kind": "room", "room_co_ppm": 0}


@pytest.fixture
def record(visit, people, page_id):
    def record(step, number=1, reference=None):
        return record_step(visit, step, people["technician"], timezone.now(), Sender(page_id, number), reference)

    return record


def test_a_step_sent_twice_is_recorded_once(record, visit):
    assert record(NOTE).pk == record(NOTE).pk
    assert len(judged(visit).tree["steps"]) == 1


def test_one_number_for_two_things_is_refused(record, visit):
    record(NOTE)
    with pytest.raises(SentDifferentlyError):
        record({"kind": "note", "text": "something else"})
    assert len(judged(visit).tree["steps"]) == 1


def test_what_the_record_refuses_leaves_nothing_behind(record, visit, rack):
    step = {
        "kind": "temperature",
        "channel": "stack",
        "of": "probe",
        "reference_value": {"unit": "degC", "value": -500.0},
        "readings": [{"channel": "stack", "unit": "degC", "step": 1, "shown": [200]}],
    }
    with pytest.raises(RecordError, match="absolute zero") as refused:
        record(step, reference=rack["THERM-1"])
    assert refused.value.path.endswith("reference_value.value")
    assert judged(visit).tree["references"] == {}


def test_a_reference_goes_into_the_record_once(record, visit, rack):
    step = {
        "kind": "temperature",
        "channel": "stack",
        "of": "probe",
        "reference_value": {"unit": "degC", "value": 200.0},
        "readings": [{"channel": "stack", "unit": "degC", "step": 1, "shown": [200]}],
    }
    record(step, 1, rack["THERM-1"])
    record(step, 2, rack["THERM-1"])
    assert visit.events.filter(kind="reference").count() == 1
    assert judged(visit).tree["steps"][0]["reference"] == "THERM-1"
    assert broken_links(visit) == []


def test_an_expired_reference_is_refused_with_the_reason(record, rack):
    with pytest.raises(RecordError) as refused:
        record({**NOTE, "kind": "swap-test"}, reference=rack["CYL-OLD"])
    assert refused.value.path == "$.reference"
    assert "CYL-OLD" in refused.value.message


def test_nothing_is_recorded_while_gas_is_on(record, visit, people):
    Application.objects.create(
        visit=visit, plan={"kind": "test-gas"}, began_at=timezone.now(), began_by=people["technician"]
    )
    with pytest.raises(RecordError, match="a measurement is running"):
        record(ROOM)


def test_a_job_that_is_signed_takes_no_steps(record, job):
    job.refresh_from_db()
    job.state = "to-sign"
    job.save()
    with pytest.raises(RecordError, match="not on the bench"):
        record(NOTE)


class TestCells:
    @pytest.fixture(autouse=True)
    def _memory(self, record):
        record({"kind": "note", "text": "Memory: this unit stores nothing."}, 90)

    def part(self, what="co cell", done="replaced", **more):
        return {"kind": "part", "done": done, "what": what, "opened_case": True, **more}

    def test_a_new_cell_goes_into_the_analyzers_list_and_the_old_one_stays(self, record, analyzer):
        record(self.part(serial="B9"))
        old, new = Cell.objects.filter(analyzer=analyzer, gas="co").order_by("id")
        assert (old.serial, old.removed) == ("B7", timezone.localdate())
        assert (new.serial, new.fitted, new.removed) == ("B9", timezone.localdate(), None)
        assert old.history.count() == 2

    def test_the_same_press_twice_fits_one_cell(self, record, analyzer):
        record(self.part(serial="B9"))
        record(self.part(serial="B9"))
        assert analyzer.cells.filter(gas="co").count() == 2

    @pytest.mark.parametrize(("what", "done"), [("pump", "replaced"), ("cells", "replaced"), ("co cell", "repaired")])
    def test_what_is_no_one_cell_changes_no_list(self, record, analyzer, what, done):
        record(self.part(what=what, done=done))
        assert analyzer.cells.count() == 2

    def test_a_removed_cell_is_closed_and_nothing_is_added(self, record, analyzer):
        record(self.part(done="removed"))
        assert analyzer.cells.filter(gas="co", removed=None).count() == 0
        assert analyzer.cells.count() == 2
