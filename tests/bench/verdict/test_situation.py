from flueproof.bench.judge.judge import examine_record
from flueproof.bench.judge.validity import validity_of


def test_only_points_of_the_owners_path_count(visit, read):
    now = examine_record(*read(visit(instrument=True))).found
    assert {point.feed for point in now.points if point.channel == "co"} == {"tip", "instrument"}
    assert {point.feed for point in now.counting if point.channel == "co"} == {"tip"}


def test_what_was_measured_with_something_unfit_never_reaches_the_verdict(start, read):
    """Gas at a third of the pump's flow shows 14 % O2: that asks for a repeat, never for a part."""
    visit = start()
    wrong = visit.test_gas("cyl-co-500", "tip", supply_l_min=0.3)
    record, profile = read(visit)
    assert not validity_of(record, profile).fit(wrong, "o2")
    examined = examine_record(record, profile)
    assert examined.found.points == ()
    assert [point.step for point in examined.judgement.points] == [wrong, wrong]  # still printed
    assert "replace-cell" not in {action.do for action in examined.judgement.as_found.actions}


def test_notes_block_only_where_a_required_point_hangs_on_them(start, read):
    visit = start()
    wrong = visit.test_gas("cyl-co-500", "tip", vent_open=False)
    assert {note.step for note in examine_record(*read(visit)).found.blocking} == {wrong}
    visit.test_gas("cyl-co-500", "tip")
    assert examine_record(*read(visit)).found.blocking == ()
