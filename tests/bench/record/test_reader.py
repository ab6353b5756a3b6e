"""Reading as a whole: the good record, its name in errors, and that nothing but RecordError comes out."""

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flueproof.bench.errors import RecordError
from flueproof.bench.record.reader import read_record, record_from_json

ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["room", "co", "%"]),
    lambda below: st.lists(below, max_size=3) | st.dictionaries(st.text(max_size=6), below, max_size=3),
    max_leaves=6,
)


def places_in(node, place=()):
    yield place
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, below in items:
        yield from places_in(below, (*place, key))


def outcome(data):
    """Return "read", or path, message and remedy of the refusal; any other error passes through."""
    try:
        read_record(data)
    except RecordError as error:
        return f"{error.path} {error.message} {error.remedy}"
    return "read"


def test_a_file_and_its_bytes_give_the_same_record(tmp_path, good_bytes):
    path = tmp_path / "rec-0001.json"
    path.write_bytes(good_bytes)
    assert read_record(path) == read_record(good_bytes)


def test_a_parsed_object_gives_the_same_record(good, good_bytes):
    assert record_from_json(good) == read_record(good_bytes)


def test_reading_does_not_change_the_parsed_object(good, good_bytes):
    record_from_json(good)
    assert good == json.loads(good_bytes)


def test_an_error_bears_the_name_of_its_file(tmp_path):
    path = tmp_path / "rec-0002.json"
    path.write_text("{}", encoding="utf-8")
    with pytest.raises(RecordError, match=r"^rec-0002\.json: \$\.format: "):
        read_record(path)


def test_an_error_bears_the_name_it_was_given(tmp_path):
    with pytest.raises(RecordError, match=r"^row 7: \$: "):
        read_record(b"", name="row 7")
    with pytest.raises(RecordError, match=r"^row 8: \$: "):
        read_record(tmp_path / "none.json", name="row 8")


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_whatever_stands_anywhere_the_record_is_read_or_refused_with_a_path(good_bytes, data):
    tree = json.loads(good_bytes)
    *above, last = data.draw(st.sampled_from([place for place in places_in(tree) if place]))
    node = tree
    for key in above:
        node = node[key]
    node[last] = data.draw(ANYTHING)
    said = outcome(json.dumps(tree).encode())
    assert said == "read" or said.startswith("$")


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60))
def test_whatever_bytes_come_only_a_record_error_is_raised(data):
    with pytest.raises(RecordError):
        read_record(data)
