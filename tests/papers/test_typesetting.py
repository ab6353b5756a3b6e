import json
import os
import subprocess
import sys

import pytest

from flueproof.papers import typesetting
from flueproof.papers.errors import TypesettingError
from flueproof.papers.typesetting import typeset

TAG = {
    "next": "",
    "serial": "S1", "item": "Orrin 5", "owner": "Tidewater (invented)", "shop": "Bench (invented)", "job": "J-1",
    "what": "CO reads too low", "points": [], "found": "3 November 2026", "date": {"year": 2026, "month": 11, "day": 3},
}  # fmt: skip


def test_a_missing_field_is_said_with_the_template(readback):
    with pytest.raises(TypesettingError, match=r"tag\.typ"):
        typeset("tag.typ", {key: value for key, value in TAG.items() if key != "owner"})


def test_a_text_the_setter_fails_on_is_set_with_squares_instead(monkeypatch, readback):
    real = typesetting._compile

    def moody(template, data, standard):
        if "שלום" in data["owner"]:
            raise TypesettingError("as if the setter had failed")
        return real(template, data, standard)

    monkeypatch.setattr(typesetting, "_compile", moody)
    said = readback.flat(typeset("tag.typ", TAG | {"owner": "שלום Ltd"}))
    assert "□□□□Ltd" in said


def test_a_crash_of_the_setter_is_an_error_of_ours_and_an_interrupt_stays_one(monkeypatch):
    import typst

    class PanicException(BaseException):
        pass

    def crash(*args, **kwargs):
        raise PanicException("end byte index")

    monkeypatch.setattr(typst, "compile", crash)
    with pytest.raises(TypesettingError, match="end byte index"):
        typeset("tag.typ", TAG)

    def stop(*args, **kwargs):
        raise KeyboardInterrupt

    monkeypatch.setattr(typst, "compile", stop)
    with pytest.raises(KeyboardInterrupt):
        typeset("tag.typ", TAG)


def test_templates_hold_no_network_package_and_run_no_text():
    from importlib import resources

    folder = resources.files("flueproof.papers").joinpath("data")
    for template in (entry for entry in folder.iterdir() if entry.name.endswith(".typ")):
        source = template.read_text(encoding="utf-8")
        assert "@preview" not in source
        assert "eval(" not in source
        assert "read(" not in source


FORKED = """
import json, os, sys
from flueproof.papers.errors import TypesettingError
from flueproof.papers.typesetting import typeset
content = json.loads(sys.argv[1])
typeset("tag.typ", content)
child = os.fork()
if child == 0:
    try:
        typeset("tag.typ", content)
    except TypesettingError as error:
        os._exit(7 if "forked" in str(error) else 8)
    os._exit(9)
sys.exit(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system does not fork")
def test_a_fork_of_a_process_that_set_a_paper_refuses_instead_of_waiting_for_ever():
    done = subprocess.run([sys.executable, "-W", "ignore", "-c", FORKED, json.dumps(TAG)], check=False, timeout=60)
    assert done.returncode == 7
