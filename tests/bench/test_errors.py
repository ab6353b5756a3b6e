from flueproof.bench.errors import BenchError, RecordError


def test_a_record_error_says_where_what_and_what_to_do():
    error = RecordError("$.job", "the key 'job' is missing.", "Add it.")
    assert str(error) == "$.job: the key 'job' is missing. Add it."
    assert isinstance(error, BenchError)


def test_a_record_error_names_its_record_where_it_is_known():
    error = RecordError("$", "the file is empty.", "Name the file.", "rec-0001.json")
    assert str(error).startswith("rec-0001.json: $: ")


def test_a_record_error_turns_into_the_json_of_the_judgement_format():
    error = RecordError("$.job", "missing.", "Add it.", "rec-0001.json")
    assert error.to_json_dict() == {"path": "$.job", "message": "missing.", "remedy": "Add it."}
