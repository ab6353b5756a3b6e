import importlib.util
import sys
from datetime import date
from pathlib import Path

import pytest

from flueproof.papers.issue import Issue


def _beside(name):
    spec = importlib.util.spec_from_file_location(f"papers_{name}", Path(__file__).with_name(f"{name}.py"))
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


SAMPLE, READBACK = _beside("sample"), _beside("readback")


@pytest.fixture(scope="session")
def sample():
    return SAMPLE


@pytest.fixture(scope="session")
def readback():
    return READBACK


@pytest.fixture(scope="session")
def issue():
    return Issue("FP-2026-0042", date(2026, 11, 4), "R. Vale", paper="a4")


@pytest.fixture(scope="session")
def record():
    return SAMPLE.record_of()


@pytest.fixture(scope="session")
def profile():
    return SAMPLE.profile_of()


@pytest.fixture(scope="session")
def judgement():
    return SAMPLE.judgement_of()
