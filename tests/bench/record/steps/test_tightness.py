import pytest


@pytest.mark.parametrize("pump", ["stalls", "slows", "runs-on", "alarm"])
def test_a_pump_may_answer_a_plug_in_four_ways(pump, good, read):
    good["steps"][4]["pump"] = pump
    assert read(good).steps[4].pump == pump


def test_a_vacuum_that_was_looked_at_once_shows_nothing(good, refused):
    good["steps"][5]["readings"][0].update(t_s=[0], shown=[8.0])
    assert refused(good).path == "$.steps[5].readings[0].t_s"


def test_a_vacuum_has_a_unit_of_pressure(good, refused):
    good["steps"][5]["readings"][0]["unit"] = "%"
    assert refused(good).path == "$.steps[5].readings[0].unit"


def test_a_volume_that_is_not_known_is_null(good, read):
    assert read(good).steps[5].volume_ml is None
