"""The command line under test: run in this process, the demo records as files, the table of broken records."""

import importlib.util
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from flueproof.cli.main import program
from flueproof.simulate.demo import demo_records

BENCH_TESTS = Path(__file__).resolve().parents[1] / "bench" / "record"


@pytest.fixture
def run():
    """Return a function that runs `flueproof WORDS...` here and returns click's result; nothing may escape it."""

    def invoked(*words, **more):
        result = CliRunner().invoke(program, [str(word) for word in words], **more)
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return invoked


@pytest.fixture(scope="session")
def demo_files(tmp_path_factory):
    """Return the demo records as files, by name; no test may change them."""
    folder = tmp_path_factory.mktemp("demo-records")
    files = {}
    for one in demo_records():
        files[one.name] = folder / f"{one.name}.json"
        files[one.name].write_text(json.dumps(one.record), encoding="utf-8")
    return files


@pytest.fixture
def record():
    """Return a function that gives a fresh copy of a demo record as a dictionary that a test may change."""
    trees = {one.name: one.record for one in demo_records()}
    return lambda name: json.loads(json.dumps(trees[name]))


@pytest.fixture
def put(tmp_path):
    """Return a function that writes a record (or bytes) to a file and returns its path."""

    def written(content, name="visit.json", folder=None):
        target = (folder or tmp_path) / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
        return target

    return written


@pytest.fixture(scope="session")
def broken():
    """Return what the record room's own tests break: kind -> (breaker, exact path, ...), and the record they break."""
    path = BENCH_TESTS / "test_broken_records.py"
    spec = importlib.util.spec_from_file_location("table_of_broken_records", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.BROKEN, (BENCH_TESTS / "good_record.json").read_text(encoding="utf-8")
