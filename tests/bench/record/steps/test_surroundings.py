import pytest


@pytest.mark.parametrize("content", [{"humidity_pct": 0}, {"room_co_ppm": 0}, {"pressure_hpa": 800}])
def test_one_fact_about_the_room_is_enough(content, good, read, step):
    good["steps"].append(step("room", **content))
    assert read(good).steps[-1].air is None


def test_a_settings_step_without_settings_is_refused(good, refused, step):
    good["steps"].append(step("settings"))
    assert refused(good).path == "$.steps[11]"


def test_a_changed_setting_keeps_its_kind_of_value(good, read, step):
    good["steps"].append(step("settings", changed={"fuel": "propane", "CO limit": 9, "buzzer": True}))
    assert read(good).steps[-1].changed == {"fuel": "propane", "CO limit": 9, "buzzer": True}


@pytest.mark.parametrize("value", [None, [], {}, float("nan")])
def test_a_setting_is_a_single_value(value, good, refused, step):
    good["steps"].append(step("settings", changed={"fuel": value}))
    assert refused(good).path == "$.steps[11].changed.fuel"
