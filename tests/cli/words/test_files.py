"""Files are read no further than they can be what was asked for."""

from pathlib import Path

import pytest

from flueproof.cli.words.faults import Refusal
from flueproof.cli.words.files import bytes_of


def test_a_file_up_to_the_limit_is_read_whole(tmp_path):
    file = tmp_path / "whole"
    file.write_bytes(b"12345")
    assert bytes_of(file, 5, "a trace") == b"12345"


def test_a_longer_one_is_refused_with_what_it_should_be(tmp_path):
    file = tmp_path / "long"
    file.write_bytes(b"123456")
    with pytest.raises(Refusal) as caught:
        bytes_of(file, 5, "a trace")
    assert caught.value.fault.remedy == "Is it a trace?"


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_device_that_never_ends_is_refused():
    with pytest.raises(Refusal):
        bytes_of(Path("/dev/zero"), 1000, "a trace")
