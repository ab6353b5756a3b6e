"""Special functions come from scipy, and only when they are asked for."""

import subprocess
import sys

import pytest
from scipy import special as scipy_special

from flueproof.metrology.functions import special


def test_a_function_is_that_of_scipy():
    assert special.ndtr is scipy_special.ndtr


def test_a_name_that_is_none_is_refused():
    with pytest.raises(AttributeError):
        special.no_such_function  # noqa: B018 -- the look itself is the test


@pytest.mark.parametrize(
    "module", ["flueproof.metrology.risk", "flueproof.metrology.joint", "flueproof.bench.judge.judge"]
)
def test_what_judges_loads_without_scipy(module):
    code = f"import sys, {module}; print('scipy.special' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
