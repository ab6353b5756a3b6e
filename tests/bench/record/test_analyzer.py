from datetime import date


def test_the_age_of_a_cell_is_known_by_month_or_day(good, read):
    o2, co = read(good).analyzer.cells
    assert (o2.made, o2.made_day) == ("2024-06", date(2024, 6, 1))
    assert o2.fitted_day == date(2024, 10, 2)
    assert co.made_day is None


def test_a_cell_with_unknown_dates_is_read(good, read):
    good["analyzer"]["cells"] = [{"gas": "no"}]
    (cell,) = read(good).analyzer.cells
    assert (cell.fitted_day, cell.serial) == (None, None)


def test_a_profile_may_be_pinned_by_its_hash(good, read):
    good["analyzer"]["profile"]["sha256"] = "0123456789abcdef" * 4
    assert read(good).analyzer.profile.sha256 == "0123456789abcdef" * 4


def test_a_hash_in_capitals_is_refused(good, refused):
    good["analyzer"]["profile"]["sha256"] = "A" * 64
    assert refused(good).path == "$.analyzer.profile.sha256"


def test_a_month_that_does_not_exist_is_refused(good, refused):
    good["analyzer"]["cells"][0]["made"] = "2024-13"
    assert refused(good).path == "$.analyzer.cells[0].made"
