def test_a_repeat_is_an_application_of_its_own(good, read):
    good["steps"][3]["application"] = 2
    assert [step.application for step in read(good).steps[2:4]] == [1, 2]


def test_the_gas_may_come_on_with_the_last_look_at_the_latest(good, read, refused):
    good["steps"][2]["gas_on_s"] = 120
    assert read(good).steps[2].gas_on_s == 120
    good["steps"][2]["gas_on_s"] = 120.1
    assert refused(good).path == "$.steps[2].gas_on_s"


def test_looks_without_times_go_with_any_moment_of_gas(good, read):
    good["steps"][3]["gas_on_s"] = 500
    assert read(good).steps[3].readings[0].t_s is None
