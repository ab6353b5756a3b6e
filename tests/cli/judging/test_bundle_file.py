"""A bundle from a file: key by key, and true to its hash."""

import json

import pytest

from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle
from flueproof.cli.judging.bundle_file import bundle_of, read_bundle_file
from flueproof.cli.words.faults import Refusal

GOOD = Bundle(repeatability={"co": (1.2, 20.0)}, share_in_limits=0.8)


def test_what_a_bundle_wrote_is_read_again_with_or_without_its_hash():
    assert bundle_of(GOOD.as_dict()) == GOOD
    assert bundle_of({**GOOD.as_dict(), "sha256": GOOD.sha256()}) == GOOD


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"sha256": EMPTY_BUNDLE.sha256()}, "$.sha256"),
        ({"prior": {}}, "$.prior"),
        ({"share_in_limits": 1.5}, "$.share_in_limits"),
        ({"share_in_limits": "most"}, "$.share_in_limits"),
        ({"repeatability": {"co": [1.0]}}, "$"),
        ({"repeatability": [1]}, "$"),
    ],
)
def test_a_wrong_bundle_is_refused_by_its_key(change, path):
    with pytest.raises(Refusal) as caught:
        bundle_of({**GOOD.as_dict(), **change})
    assert caught.value.fault.path == path


def test_a_missing_key_is_named():
    with pytest.raises(Refusal) as caught:
        bundle_of({"response": {}})
    assert caught.value.fault.path == "$.repeatability"


@pytest.mark.parametrize("content", [b"not json", b"[1]", b"\xff\xfe\x00", b"[" * 100_000])
def test_a_file_that_holds_none_is_refused(tmp_path, content):
    file = tmp_path / "bundle.json"
    file.write_bytes(content)
    with pytest.raises(Refusal):
        read_bundle_file(file)


def test_a_judgement_hands_out_its_own(tmp_path):
    file = tmp_path / "judgement.json"
    file.write_text(json.dumps({"format": "flueproof-judgement/1", "bundle": GOOD.as_dict()}), encoding="utf-8")
    assert bundle_of(read_bundle_file(file)) == GOOD
