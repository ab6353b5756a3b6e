"""One clear message for whatever goes wrong."""

import json

import click
import pytest

from flueproof.analyzer.errors import NoLimitError, ProfileError
from flueproof.bench.errors import RecordError
from flueproof.cli.words.faults import Fault, Refusal, fault_of, refusing
from flueproof.metrology.errors import DecisionRuleError
from flueproof.papers.errors import IssueError
from flueproof.readings.errors import TraceFileError


@pytest.mark.parametrize(
    ("error", "path", "word"),
    [
        (RecordError("$.job", "is missing.", "Add it."), "$.job", "is missing."),
        (ProfileError("channels.co.unit", "is 'pmm'.", "Use ppm."), "channels.co.unit", "'pmm'"),
        (TraceFileError("no number.", "Write one.", row=4, column="co"), "row 4, column co", "no number."),
        (TraceFileError("empty.", "Export it again."), "$", "empty."),
        (Refusal("--r", "stands alone.", "Add --rule."), "--r", "stands alone."),
        (NoLimitError("no limit at 900 ppm"), "$", "no limit at 900 ppm."),
        (DecisionRuleError("rule 'x' is not known"), "$", "'x'"),
        (IssueError("the signer's name is empty"), "$", "signer"),
        (FileNotFoundError(2, "No such file or directory", "x.csv"), "$", "x.csv"),
        (KeyError("tip"), "$", "KeyError"),
        (MemoryError(), "$", "MemoryError"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, Exception) else None,
)
def test_every_error_has_place_words_and_remedy(error, path, word):
    fault = fault_of(error)
    assert fault.path == path
    assert word in fault.message
    assert fault.message.endswith(".")
    assert fault.remedy.endswith(".")
    assert "\n" not in str(fault)


def test_the_whole_file_is_not_named_as_a_place():
    assert str(Fault("$", "is empty.", "Fill it.")) == "is empty. Fill it."
    assert str(Fault("$.job", "is empty.", "Fill it.")) == "$.job: is empty. Fill it."


@pytest.mark.parametrize("as_json", [False, True])
def test_a_command_leaves_with_2_and_one_message(capsys, as_json):
    with pytest.raises(SystemExit) as left, refusing(as_json=as_json, where="x.csv"):
        raise RecordError("$.job", "is missing.", "Add it.")
    assert left.value.code == 2
    out, err = capsys.readouterr()
    if as_json:
        assert json.loads(out) == {"error": {"path": "$.job", "message": "is missing.", "remedy": "Add it."}}
        assert err == ""
    else:
        assert out == ""
        assert err == "flueproof: x.csv: $.job: is missing. Add it.\n"


def test_ctrl_c_leaves_with_130(capsys):
    with pytest.raises(SystemExit) as left, refusing(as_json=False):
        raise KeyboardInterrupt
    assert left.value.code == 130
    assert capsys.readouterr().err == "flueproof: stopped.\n"


@pytest.mark.parametrize("error", [click.UsageError("x"), BrokenPipeError()])
def test_what_click_handles_itself_passes_through(error):
    with pytest.raises(type(error)), refusing(as_json=False):
        raise error
