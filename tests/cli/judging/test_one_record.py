"""One record from file to answer."""

from datetime import date

import pytest

from flueproof.analyzer.errors import ProfileError
from flueproof.cli.judging.one_record import answer, open_bench
from flueproof.cli.judging.setting import IssueSetting, Setting
from flueproof.metrology.errors import DecisionRuleError


def test_an_answer_names_what_it_wrote(demo_files, tmp_path):
    issue = IssueSetting(date(2026, 12, 1), number_prefix="FP-")
    told = answer(demo_files["healthy"], open_bench(Setting(show="line", out=str(tmp_path), issue=issue)))
    assert told.fault is None
    assert told.number == "FP-J-2026-00001"
    assert told.folder == str(tmp_path / "healthy")
    assert set(told.written) == {file.name for file in (tmp_path / "healthy").iterdir()}


def test_a_fault_is_an_answer(tmp_path):
    told = answer(tmp_path / "none.json", open_bench(Setting(show="line")))
    assert told.text == "none.json: not judged. there is no such file. Check the name and the folder."
    assert told.fault.path == "$"


def test_the_bench_refuses_what_no_record_could_mend():
    with pytest.raises(DecisionRuleError):
        open_bench(Setting(rule="guarded-rU", r=-1.0))
    with pytest.raises(ProfileError):
        open_bench(Setting(profiles=(("x.toml", b"name = 1"),)))
