"""Which of several errors is told, and that it stays short."""


def test_a_misspelt_key_is_told_before_the_key_missing_because_of_it(good, refused):
    good["analyzer"]["seriel"] = good["analyzer"].pop("serial")
    error = refused(good)
    assert error.path == "$.analyzer.seriel"
    assert error.remedy.startswith("Did you mean 'serial'?")


def test_a_missing_key_is_told_before_a_key_that_has_nothing_to_do_with_it(good, refused):
    del good["analyzer"]["serial"]
    good["analyzer"]["colour"] = "grey"
    assert refused(good).path == "$.analyzer.serial"


def test_several_errors_are_counted(good, refused):
    del good["job"], good["shop"], good["owner"]
    error = refused(good)
    assert error.path == "$.job"
    assert error.remedy.endswith("(2 more errors follow.)")


def test_the_first_broken_step_is_told_alone(good, refused):
    good["steps"][3]["id"] = 3
    good["steps"][2]["id"] = 2
    error = refused(good)
    assert error.path == "$.steps[2].id"
    assert "more" not in error.remedy


def test_a_long_value_is_told_short(good, refused):
    good["order"]["service"] = "verify " * 5000
    good["steps"][2]["kind"] = "x" * 100_000
    error = refused(good)
    assert len(error.message) < 200
    del good["order"]
    good["order"] = {"service": "verify"}
    assert len(refused(good).message) < 200


def test_a_long_key_is_told_short(good, refused):
    good["k" * 100_000] = 1
    error = refused(good)
    assert len(error.path) < 100
    assert len(error.message) < 200


def test_a_word_near_none_of_the_allowed_ones_gets_them_all(good, refused):
    good["order"]["service"] = "xyz"
    assert refused(good).remedy == "Write 'verify', 'verify-adjust', 'repair' or 'call-first'."


def test_a_kind_near_none_of_the_known_ones_gets_them_all(good, refused):
    good["references"]["mano-1"]["kind"] = "xyz"
    assert refused(good).remedy == "Known: test-gas, thermometer, manometer, flow-meter."


def test_an_object_where_a_plain_value_belongs_is_told_by_its_shape(good, refused):
    good["steps"][0]["humidity_pct"] = {"value": 41}
    assert refused(good).message == "an object stands where a number must stand."


def test_a_plain_value_for_the_references_is_told_what_belongs_there(good, refused):
    good["references"] = "cyl-co-500"
    error = refused(good)
    assert error.path == "$.references"
    assert "by an id that the steps use" in error.remedy


def test_a_number_too_large_for_any_text_is_told_short(good, refused):
    good["job"] = 10**300
    assert refused(good).message == "a huge number stands where a text in quotes must stand."


def test_a_duplicate_deep_in_a_list_is_found(good_bytes, refused):
    twice = b'{"channel": "co", "channel": "co", "unit": "ppm", "step": 1, "shown": [489, 489]}'
    given = b'{"channel": "co", "unit": "ppm", "step": 1, "shown": [489, 489]}'
    assert given in good_bytes
    assert refused(good_bytes.replace(given, twice)).path == "$.steps[3].readings[1].channel"
