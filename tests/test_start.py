"""start.py: readable by any Python 3, clear when it cannot work, safe when cut short or run twice."""

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest

SCRIPT = Path(__file__).resolve().parent.parent / "start.py"
NEWER_THAN_3_4 = (ast.JoinedStr, ast.NamedExpr, ast.AnnAssign, ast.AsyncFunctionDef, ast.Await, ast.MatMult, ast.Match)
STEPS = ["venv", "tools", "lock", "project"]


@pytest.fixture
def start():
    spec = importlib.util.spec_from_file_location("start", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class FakeInstaller:
    """Stands where the set-up runs programs: notes each step, makes the files a real one would, stops where told."""

    def __init__(self, start, stop_at=None, fail=()):
        self.start, self.stop_at, self.fail, self.steps = start, stop_at, fail, []

    def name_of(self, command):
        if "venv" in command:
            return "venv"
        if "-e" in command:
            return "project"
        return "tools" if any(str(word).endswith("tools.lock") for word in command) else "lock"

    def __call__(self, command, held):
        step = self.name_of(command)
        if step == self.stop_at:
            raise KeyboardInterrupt
        self.steps.append(step)
        if step == "venv":
            shutil.rmtree(self.start.ENV, ignore_errors=True)
            for program in ("python", "uv"):
                path = Path(self.start.in_env(program))
                path.parent.mkdir(parents=True, exist_ok=True)
                path.touch()
        return not ("uv" in command and "uv" in self.fail)


@pytest.fixture
def shop(start, tmp_path, monkeypatch):
    """Return the script as if it lay in an empty folder with locks of its own."""
    for name in (start.TOOLS, start.RUNTIME, start.DEVELOPMENT, start.PROJECT):
        (tmp_path / name).write_text(f"uv==1\nother==1  # {name}\n")
    monkeypatch.setattr(start, "ROOT", str(tmp_path))
    monkeypatch.setattr(start, "ENV", str(tmp_path / ".venv"))
    monkeypatch.setattr(start, "STAMP", str(tmp_path / ".venv" / "flueproof-stamp"))
    return start


def set_up(shop, lock=None, **options):
    """Run the set-up with a fake installer and return the steps it took."""
    shop.run = FakeInstaller(shop, **options)
    shop.set_up(lock or shop.RUNTIME)
    return shop.run.steps


def old_pythons():
    """Return Python 3 interpreters older than 3.11 that this machine happens to have."""
    names = [f"python3.{minor}" for minor in range(11)]
    found = [shutil.which(name) for name in names]
    if shutil.which("pyenv"):
        root = subprocess.run(["pyenv", "root"], capture_output=True, text=True, check=False).stdout.strip()
        if root:
            found += [str(path) for name in names for path in sorted(Path(root).glob(f"versions/*/bin/{name}"))]
    running = "import sys; sys.exit(sys.version_info[:2] >= (3, 11))"
    return [path for path in found if path and subprocess.run([path, "-c", running], check=False).returncode == 0]


class TestReadableByAnyPython3:
    def test_its_grammar_is_that_of_python_3_4(self):
        tree = ast.parse(SCRIPT.read_text(encoding="ascii"), feature_version=(3, 4))
        assert [node for node in ast.walk(tree) if isinstance(node, NEWER_THAN_3_4)] == []

    def test_no_function_is_annotated(self):
        tree = ast.parse(SCRIPT.read_text(encoding="ascii"))
        functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
        marked = [item for node in functions for item in [node.returns, *(arg.annotation for arg in node.args.args)]]
        assert [item for item in marked if item is not None] == []

    def test_it_imports_nothing_beyond_the_oldest_standard_library_before_the_version_check(self):
        tree = ast.parse(SCRIPT.read_text(encoding="ascii"))
        names = {alias.name for node in tree.body if isinstance(node, ast.Import) for alias in node.names}
        assert names <= {"errno", "hashlib", "os", "re", "subprocess", "sys", "tempfile", "time"}
        assert not [node for node in tree.body if isinstance(node, ast.ImportFrom)]

    def test_real_old_interpreters_get_one_sentence_and_exit_1(self):
        pythons = old_pythons()
        if not pythons:
            pytest.skip("no Python older than 3.11 on this machine")
        for python in pythons:
            done = subprocess.run([python, str(SCRIPT), "demo"], capture_output=True, text=True, check=False)
            assert done.returncode == 1
            assert done.stderr.startswith("Flueproof needs Python 3.11 or newer; this is 3.")
            assert done.stderr.count("\n") == 1


class TestWhatItSays:
    def run(self, *arguments):
        return subprocess.run([sys.executable, str(SCRIPT), *arguments], capture_output=True, text=True, check=False)

    def test_an_unknown_command_exits_2_and_shows_the_usage(self):
        done = self.run("frobnicate")
        assert done.returncode == 2
        assert "does not know 'frobnicate'" in done.stderr
        assert "usage:" in done.stderr

    def test_no_command_exits_2_and_shows_the_usage(self):
        done = self.run()
        assert done.returncode == 2
        assert "usage: python3 start.py demo" in done.stdout

    def test_help_exits_0(self):
        assert self.run("--help").returncode == 0

    def test_an_old_python_is_named_in_one_sentence(self, start, monkeypatch, capsys):
        monkeypatch.setattr(sys, "version_info", (3, 8, 1, "final", 0))
        assert start.main(["demo"]) == 1
        assert capsys.readouterr().err.startswith("Flueproof needs Python 3.11 or newer; this is 3.8. ")

    @pytest.mark.parametrize("gone", ["venv", "ensurepip"])
    def test_a_python_without_venv_is_told_what_to_install(self, start, monkeypatch, capsys, gone):
        monkeypatch.setattr(start, "importable", lambda name: name != gone)
        assert start.main(["demo"]) == 1
        said = capsys.readouterr().err
        assert f"This Python lacks {gone}," in said
        assert "-venv)" in said

    def test_a_python_that_lacks_nothing_brings_no_complaint(self, start):
        assert start.complaint((3, 14), {"venv": True, "ensurepip": True}) is None


class TestSetUp:
    def test_the_first_run_makes_everything_in_order(self, shop):
        assert set_up(shop) == STEPS

    def test_the_second_run_does_nothing(self, shop):
        set_up(shop)
        assert set_up(shop) == []

    @pytest.mark.parametrize("step", STEPS)
    def test_a_run_that_was_cut_short_is_made_afresh(self, shop, step):
        with pytest.raises(KeyboardInterrupt):
            set_up(shop, stop_at=step)
        assert not Path(shop.STAMP).exists()
        assert set_up(shop) == STEPS

    def test_test_after_demo_adds_the_development_lock_only(self, shop):
        set_up(shop)
        assert set_up(shop, shop.DEVELOPMENT) == ["lock"]

    def test_demo_after_test_does_nothing(self, shop):
        set_up(shop, shop.DEVELOPMENT)
        assert set_up(shop) == []

    @pytest.mark.parametrize("name", ["tools.lock", "requirements.lock"])
    def test_a_changed_lock_makes_the_environment_afresh(self, shop, name):
        set_up(shop)
        Path(shop.ROOT, name).write_text("uv==2\n")
        assert set_up(shop) == STEPS

    def test_a_changed_project_file_installs_the_project_only(self, shop):
        set_up(shop)
        Path(shop.ROOT, shop.PROJECT).write_text("changed")
        assert set_up(shop) == ["project"]

    def test_another_python_makes_the_environment_afresh(self, shop, monkeypatch):
        set_up(shop)
        monkeypatch.setattr(sys, "version", "3.99 (another)")
        assert set_up(shop) == STEPS

    def test_an_environment_without_its_python_is_made_afresh(self, shop):
        set_up(shop)
        Path(shop.in_env("python")).unlink()
        assert set_up(shop) == STEPS

    def test_pip_takes_over_where_uv_cannot_run(self, shop):
        assert set_up(shop, fail=("uv",)) == ["venv", "tools", "lock", "lock", "project", "project"]
        assert shop.serves(shop.stamped(), shop.wanted(shop.RUNTIME))

    def test_without_uv_the_back_end_is_still_installed_by_hash(self, shop, monkeypatch):
        seen = []

        def by_pip(lock, held):
            text = Path(shop.ROOT, lock).read_text()
            seen.append(text)
            return "uv==" not in text

        monkeypatch.setattr(shop, "install_by_pip", by_pip)
        shop.run = FakeInstaller(shop)
        shop.make_environment(None)
        assert [text.split("==")[0] for text in seen] == ["uv", "other"]

    def test_what_cannot_be_installed_is_named_and_leaves_no_stamp(self, shop, monkeypatch, capsys):
        monkeypatch.setattr(shop, "install_lock", lambda lock, held: (_ for _ in ()).throw(shop.cannot_install(lock)))
        shop.run = FakeInstaller(shop)
        assert shop.main(["demo"]) == 1
        assert "Could not install what requirements.lock lists" in capsys.readouterr().err
        assert not Path(shop.STAMP).exists()

    def test_variables_that_lead_installers_astray_are_kept_from_them(self, start, monkeypatch):
        monkeypatch.setenv("PYTHONPATH", "elsewhere")
        monkeypatch.setenv("PIP_TARGET", "elsewhere")
        monkeypatch.setenv("PIP_TIMEOUT", "7")
        kept = start.clean_surroundings()
        assert "elsewhere" not in kept.values()
        assert kept["PIP_TIMEOUT"] == "7"


class TestTwoAtOnce:
    def test_the_lock_is_held_by_one_at_a_time(self, start, tmp_path):
        with (tmp_path / "lock").open("a+") as first, (tmp_path / "lock").open("a+") as second:
            assert start.try_lock(first)
            assert not start.try_lock(second)
            first.close()
            assert start.try_lock(second)

    def test_the_second_waits_and_finds_the_work_done(self, shop, capsys):
        inside, go_on = threading.Event(), threading.Event()
        fake = FakeInstaller(shop)

        def slow(command, held):
            inside.set()
            assert go_on.wait(20)
            return fake(command, held)

        shop.run = slow
        waits = threading.Event()
        tell = shop.say
        shop.say = lambda text: (waits.set() if "waiting" in text else None, tell(text))
        first = threading.Thread(target=shop.set_up, args=(shop.RUNTIME,))
        second = threading.Thread(target=shop.set_up, args=(shop.RUNTIME,))
        first.start()
        assert inside.wait(20)
        second.start()
        assert waits.wait(20)
        go_on.set()
        first.join(20)
        second.join(20)
        assert fake.steps == STEPS

    @pytest.mark.skipif(os.name == "nt", reason="an installer inherits the lock on POSIX systems only")
    def test_an_installer_that_outlives_its_start_keeps_the_lock(self, start, tmp_path, monkeypatch):
        monkeypatch.setattr(start, "ROOT", str(tmp_path))
        with (tmp_path / "lock").open("a+") as held:
            assert start.try_lock(held)
            asleep = "import subprocess, sys; subprocess.Popen([sys.executable, '-c', 'input()'], close_fds=False)"
            reader, writer = os.pipe()
            monkeypatch.setattr(start.subprocess, "call", _call_with_stdin(start.subprocess.call, reader))
            assert start.run([sys.executable, "-c", asleep], held)
            os.close(reader)
        with (tmp_path / "lock").open("a+") as next_one:
            assert not start.try_lock(next_one)
            os.close(writer)
            start.wait_for_lock(next_one, pause=0.01)


def _call_with_stdin(call, stdin):
    def with_stdin(command, **options):
        return call(command, stdin=stdin, **options)

    return with_stdin
