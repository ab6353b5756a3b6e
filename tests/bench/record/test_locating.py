import pytest

from flueproof.bench.record.locating import field_at, json_path, model_at, place_without_tags
from flueproof.bench.record.order import OwnerLimit
from flueproof.bench.record.record import Record
from flueproof.bench.record.references import Component
from flueproof.bench.record.steps.gas import TestGasStep
from flueproof.bench.record.steps.step import GasFeed
from flueproof.bench.record.values.readings import Reading


@pytest.mark.parametrize(
    ("place", "path"),
    [
        ((), "$"),
        (("steps", 2, "reference"), "$.steps[2].reference"),
        (("references", "cyl-co-500", "k"), "$.references['cyl-co-500'].k"),
        (("a b", "it's"), "$['a b']['it\\'s']"),
        (("a\\b",), "$['a\\\\b']"),
        (("\n",), "$['\\n']"),
        (("",), "$['']"),
    ],
)
def test_a_path_is_written_as_json_path(place, path):
    """RFC 9535 (from memory): name shorthand where the key is a plain name, quoted in brackets otherwise."""
    assert json_path(place) == path


def test_the_names_of_union_members_are_no_part_of_the_place():
    assert place_without_tags(("steps", 2, "test-gas", "path", "feed")) == ("steps", 2, "path", "feed")
    assert place_without_tags(("references", "a", "manometer", "k")) == ("references", "a", "k")
    assert place_without_tags(("order", "limits", "owner", "co", "of")) == ("order", "limits", "co", "of")
    assert place_without_tags(("references", "", "[key]")) == ("references", "")
    assert place_without_tags(("shop", "address", 1)) == ("shop", "address", 1)


def test_the_model_at_a_place_is_found_through_unions_lists_and_options():
    assert model_at(Record, ()) is Record
    assert model_at(Record, ("steps", 0, "test-gas")) is TestGasStep
    assert model_at(Record, ("steps", 0, "test-gas", "feed")) is GasFeed
    assert model_at(Record, ("steps", 0, "test-gas", "readings", 1)) is Reading
    assert model_at(Record, ("references", "a", "test-gas", "components", "co")) is Component
    assert model_at(Record, ("order", "limits", "owner", "co")) is OwnerLimit
    assert model_at(Record, ("job",)) is None
    assert model_at(Record, ("steps", 0, "nothing", "at")) is None


def test_the_field_at_a_place_is_its_own_or_the_nearest_above():
    assert field_at(Record, ("job",)) is Record.model_fields["job"]
    assert field_at(Record, ("shop", "address", 1)).description == "Address, one line an item."
    assert field_at(Record, ("nothing",)) is None
