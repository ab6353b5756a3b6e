"""What must agree between the parts, where striking a step makes the difference."""


def test_an_adjustment_that_was_refused_leaves_the_analyzer_as_found(good, read, step):
    good["steps"] = good["steps"][:9]
    good["steps"][8]["accepted"] = False
    good["steps"].append(step("plug-test", phase="as-found", path={"feed": "tip"}, pump="stalls"))
    assert read(good).steps[-1].phase == "as-found"


def test_an_as_found_step_after_a_part_is_refused(good, refused, step):
    del good["steps"][8]
    good["steps"].append(step("ambient-air", phase="as-found", readings=good["steps"][3]["readings"]))
    assert refused(good).path == "$.steps[10].phase"
    assert "'s9' (part)" in refused(good).message


def test_an_as_found_step_stands_once_the_work_before_it_is_struck(good, read, step):
    good["steps"].append(step("plug-test", phase="as-found", path={"feed": "tip"}, pump="stalls"))
    for number, struck in enumerate(("s8", "s9")):
        good["steps"].append({**step("strike", strikes=struck, why="not done"), "id": f"x{number}"})
    assert [step.id for step in read(good).standing_steps()][-3:] == ["new", "x0", "x1"]


def test_an_as_left_step_may_follow_work(good, read, step):
    good["steps"].append(step("plug-test", phase="as-left", path={"feed": "tip"}, pump="stalls"))
    assert read(good).steps[-1].phase == "as-left"


def test_a_wrong_time_no_longer_counts_once_its_step_is_struck(good, read, refused):
    good["steps"][7]["at"] = "2026-11-30T10:10:00-05:00"
    assert read(good).job
    del good["steps"][10]
    assert refused(good).path == "$.steps[8].at"


def test_steps_may_share_a_minute(good, read):
    for step in good["steps"]:
        step["at"] = "2026-11-03T09:12-05:00"
    assert len(read(good).steps) == 11


def test_times_are_compared_across_offsets(good, refused, read):
    good["steps"][2]["at"] = "2026-11-03T14:40:00Z"
    assert read(good).job
    good["steps"][2]["at"] = "2026-11-03T09:40:00Z"
    assert refused(good).path == "$.steps[2].at"


def test_a_strike_may_not_come_before_what_it_strikes(good, refused):
    good["steps"][10]["at"] = good["steps"][6]["at"]
    good["steps"].insert(7, good["steps"].pop(10))
    assert refused(good).path == "$.steps[7].strikes"


def test_an_adjustment_in_air_needs_no_reference(good, read):
    del good["steps"][8]["reference"]
    assert read(good).steps[8].reference is None


def test_an_adjustment_may_name_any_kind_of_reference(good, read):
    good["steps"][8].update(channel="draft", reference="mano-1")
    assert read(good).steps[8].reference == "mano-1"


def test_a_record_with_no_reference_at_all_says_where_to_enter_it(good, refused):
    good["references"] = {}
    assert refused(good).path == "$.steps[2].reference"
    assert "Enter it under references" in refused(good).remedy
