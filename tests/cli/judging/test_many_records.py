"""Records side by side: order, settings of threads, and a process that dies."""

import os
from pathlib import Path

import pytest

from flueproof.cli.judging.many_records import answers, one_thread_each, processors
from flueproof.cli.judging.setting import Setting


class Deadly(type(Path())):
    """A path that ends the process which receives it: what too little memory does to one."""

    def __reduce__(self):
        return os._exit, (3,)


def test_a_process_that_dies_costs_its_own_record_only(demo_files):
    quick = [demo_files["draft-off"], demo_files["expired-cylinder"]]
    paths = [*quick, Deadly("deadly.json"), *quick, *quick, *quick, *quick]
    told = list(answers(paths, Setting(show="line"), jobs=2))
    assert [one.name for one in told] == [path.name for path in paths]
    assert [one.name for one in told if one.fault] == ["deadly.json"]
    assert "ended without an answer" in told[2].fault.message


def test_leaving_early_ends_the_processes(demo_files):
    stream = answers([demo_files["draft-off"]] * 60, Setting(), jobs=2)
    assert next(stream).name == "draft-off.json"
    stream.close()
    with pytest.raises(StopIteration):
        next(stream)


def test_threads_are_limited_for_a_while_only(monkeypatch):
    monkeypatch.setenv("OMP_NUM_THREADS", "3")
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    with one_thread_each():
        assert os.environ["OMP_NUM_THREADS"] == os.environ["OPENBLAS_NUM_THREADS"] == "1"
    assert os.environ["OMP_NUM_THREADS"] == "3"
    assert "OPENBLAS_NUM_THREADS" not in os.environ


def test_there_is_at_least_one_processor():
    assert processors() >= 1
