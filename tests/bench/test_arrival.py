"""Water let out on arrival is no work: the state as found is the one after it (own rule)."""

from flueproof.bench.arrival import drained_on_arrival
from flueproof.bench.record_notes import worked_on
from flueproof.simulate.procedure import do_points

CO = "cyl-co-500"


def test_a_drain_before_the_first_measurement_is_on_arrival(start, read):
    visit = start()
    drained = visit.happening("drain")
    visit.test_gas(CO)
    record, _ = read(visit)
    assert drained_on_arrival(record) == {drained}
    assert not worked_on(record)


def test_a_drain_after_a_measurement_is_work(start, read):
    visit = start()
    visit.test_gas(CO)
    visit.happening("drain")
    record, _ = read(visit)
    assert drained_on_arrival(record) == frozenset()
    assert worked_on(record)


def test_a_struck_measurement_does_not_make_a_drain_work(start, read):
    visit = start()
    struck = visit.test_gas(CO)
    visit.happening("strike", strikes=struck, why="water came")
    drained = visit.happening("drain")
    record, _ = read(visit)
    assert drained_on_arrival(record) == {drained}


def test_a_healthy_unit_drained_on_arrival_is_ready_to_sign_as_found(start, judge):
    visit = start()
    visit.happening("drain", text="a spoonful of water in the trap")
    do_points(visit)
    judgement = judge(visit)
    assert judgement.as_found.outcome == "ready-to-sign"
    assert judgement.as_left is None
