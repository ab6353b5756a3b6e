import pytest


@pytest.mark.parametrize("done", ["cleaned", "reseated", "new-filter"])
def test_upkeep_is_cleaned_reseated_or_a_new_filter(done, good, read, step):
    good["steps"].append(step("upkeep", done=done, what="inlet filter"))
    assert read(good).steps[-1].done == done


@pytest.mark.parametrize("done", ["replaced", "repaired", "fitted", "removed"])
def test_a_part_is_replaced_repaired_fitted_or_removed(done, good, read):
    good["steps"][9]["done"] = done
    assert read(good).steps[9].done == done


def test_an_adjustment_keeps_what_was_entered(good, read):
    entered = read(good).steps[8].entered
    assert (entered.value, entered.unit) == (502, "ppm")


def test_a_raw_signal_may_stand_on_both_sides_of_an_adjustment(good, read):
    good["steps"][8]["signal"] = {"before": 412.0, "after": 423.5}
    assert read(good).steps[8].signal.after == 423.5
