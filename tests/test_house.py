"""The rules of the house (docs/contributing.md), each told with every place that breaks it."""

import ast
import functools
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "flueproof"
FLOORS_1_AND_2 = ("metrology", "chemistry", "testgas", "readings", "pictures", "analyzer")
LONGEST_FILE, LONGEST_FUNCTION, FULLEST_FOLDER = 350, 70, 12
VAGUE = {"utils", "util", "helpers", "helper", "misc", "common", "manager", "handler", "stuff", "base", "core"}
SAID_SOURCE = re.compile(r"Source:\s*\S|common practice, no source|from memory", re.IGNORECASE)
LEFT_UNDONE = re.compile(r"#\s*(TO" + r"DO|FIX" + r"ME|XX" + r"X|HA" + r"CK)\b|NotImplemented" + r"Error")
REGISTRY = re.compile(r"://[^/\s]*(pypi|registry|mirror|artifactory|pythonhosted)")
MACHINE_PATH = re.compile(r"(?<![\w.])/(work|root|home)/\w")
NOT_OURS = {".git", ".hypothesis", "__pycache__", "_build", "flueproof-demo", "flueproof-shop"}


@functools.cache
def modules(*rooms):
    """Return (path, tree) of every module of the rooms, or of all rooms; migrations are written by Django."""
    folders = [SOURCE / room for room in rooms] or [SOURCE]
    files = sorted(path for folder in folders for path in folder.rglob("*.py"))
    files = [path for path in files if path.parent.name != "migrations"]
    return [(path, ast.parse(path.read_text(encoding="utf-8"))) for path in files]


@functools.cache
def ours():
    """Return every text file of the project as (path, text); works without git."""
    readable = []
    for folder, below, names in os.walk(ROOT):
        below[:] = sorted(name for name in below if not _is_foreign(name))
        for name in sorted(name for name in names if not name.startswith(".coverage")):
            try:
                readable.append((Path(folder, name), Path(folder, name).read_text(encoding="utf-8")))
            except (UnicodeDecodeError, FileNotFoundError):
                continue
    return readable


def _is_foreign(name):
    return name in NOT_OURS or name.endswith("_cache") or name.startswith(".venv")


def spot(path, node=None, name=""):
    line = f":{node.lineno}" if node is not None else ""
    return f"{path.relative_to(ROOT).as_posix()}{line} {name}".rstrip()


def public(tree):
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    shown = [node for node in tree.body if isinstance(node, kinds) and not node.name.startswith("_")]
    return [node for node in shown if not any("overload" in ast.unparse(mark) for mark in node.decorator_list)]


def computes(node):
    """Return False for errors and for classes that only hold fields: there is nothing to cite."""
    if not isinstance(node, ast.ClassDef):
        return True
    return not node.name.endswith(("Error", "Warning")) and bool(public(node))


def docstrings(node):
    """Return the docstring of a function or class and those of its public methods."""
    return [ast.get_docstring(part) or "" for part in (node, *(public(node) if isinstance(node, ast.ClassDef) else ()))]


def without_docstring():
    """Every public function and class says what it is for."""
    return [
        spot(path, node, node.name) for path, tree in modules() for node in public(tree) if not ast.get_docstring(node)
    ]


def without_source():
    """On floors 1 and 2 a docstring names its Source:, or says common practice, no source / from memory."""
    return [
        spot(path, node, node.name)
        for path, tree in modules(*FLOORS_1_AND_2)
        for node in public(tree)
        if computes(node) and not any(SAID_SOURCE.search(text) for text in docstrings(node))
    ]


def numbers_without_source():
    """A table of numbers in a data file has a source, in itself or in a table above it."""
    files = sorted(SOURCE.rglob("*.toml"))
    return [place for path in files for place in _unsourced(tomllib.loads(path.read_text("utf-8")), spot(path))]


def _unsourced(table, where):
    if any(key == "source" or key.endswith("_source") for key in table):
        return []
    places = [where] if any(type(value) in (int, float) for value in table.values()) else []
    for key, value in table.items():
        below = value if isinstance(value, list) else [value]
        places += [place for item in below if isinstance(item, dict) for place in _unsourced(item, f"{where}: {key}")]
    return places


def vague_names():
    """A file is named for what is in it."""
    return [spot(path) for path, _ in modules() if path.stem in VAGUE]


def long_files():
    """A file that grows past the length of one concept is two."""
    files = [path for path, _ in modules()] + sorted((ROOT / "scripts").glob("*.py"))
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in files}
    return [f"{spot(path)}: {lines} lines" for path, lines in lengths.items() if lines > LONGEST_FILE]


def long_functions():
    """A function fits on a screen."""
    return [
        f"{spot(path, node, node.name)}: {node.end_lineno - node.lineno + 1} lines"
        for path, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and node.end_lineno - node.lineno >= LONGEST_FUNCTION
    ]


def full_folders():
    """A folder with more files than a dozen is two subjects."""
    folders = {path.parent for path, _ in modules()}
    counts = {folder: len([path for path in folder.glob("*.py") if path.stem != "__init__"]) for folder in folders}
    return [f"{spot(folder)}: {count} files" for folder, count in sorted(counts.items()) if count > FULLEST_FOLDER]


def busy_init_files():
    """The __init__ of a room is a docstring, so that a door can open without the heavy libraries."""
    found = [(path, tree) for path, tree in modules() if path.stem == "__init__" and path.parent != SOURCE]
    found = [(path, tree) for path, tree in found if path.parent != SOURCE / "shop" / "records" / "models"]
    return [spot(path) for path, tree in found if len(tree.body) != 1 or not ast.get_docstring(tree)]


def slow_imports():
    """scipy.stats takes a second to import and is not needed."""
    return [
        spot(path, node)
        for path, tree in modules()
        for node in ast.walk(tree)
        if (isinstance(node, ast.ImportFrom) and (node.module or "").startswith("scipy.stats"))
        or (isinstance(node, ast.ImportFrom) and node.module == "scipy" and "stats" in [a.name for a in node.names])
        or (isinstance(node, ast.Import) and any(alias.name.startswith("scipy.stats") for alias in node.names))
    ]


def left_undone():
    """Nothing is left for later inside the code."""
    files = [(path, text) for path, text in ours() if path.suffix == ".py"]
    return [
        f"{spot(path)}:{number}"
        for path, text in files
        for number, line in enumerate(text.splitlines(), 1)
        if LEFT_UNDONE.search(line)
    ]


def hosts_and_machine_paths():
    """No file names a package registry's host or a path of somebody's machine."""
    return [spot(path) for path, text in ours() if REGISTRY.search(text) or MACHINE_PATH.search(text)]


def unasserted_tests():
    """A test can fail: it asserts, or calls a function of the tests that does."""
    files = sorted((ROOT / "tests").rglob("*.py"))
    functions = [(path, node) for path in files for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))]
    functions = [(path, node) for path, node in functions if isinstance(node, ast.FunctionDef)]
    checkers = _checkers([node for _, node in functions])
    return [
        spot(path, node, node.name)
        for path, node in functions
        if node.name.startswith("test_") and path.name.startswith("test_") and not _asserts(node, checkers)
    ]


def _checkers(functions):
    """Return the names of functions that assert, directly or through one another."""
    found = {"raises", "warns", "fail", "assert_array_equal", "assert_allclose", "expect", "wait_for"}
    found |= {"django_assert_num_queries", "django_assert_max_num_queries"}
    while more := {node.name for node in functions if node.name not in found and _asserts(node, found)}:
        found |= more
    return found


def _asserts(function, checkers):
    for node in ast.walk(function):
        if isinstance(node, ast.Assert):
            return True
        if isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if name in checkers:
                return True
    return False


RULES = [
    without_docstring,
    without_source,
    numbers_without_source,
    vague_names,
    long_files,
    long_functions,
    full_folders,
    busy_init_files,
    slow_imports,
    left_undone,
    hosts_and_machine_paths,
    unasserted_tests,
]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_the_house_keeps_its_rule(rule):
    places = rule()
    if places:
        pytest.fail(f"{rule.__doc__} {len(places)} places do not keep to it:\n  " + "\n  ".join(places), pytrace=False)
    assert places == []


def test_the_rooms_import_downwards_only():
    """The import contract in pyproject.toml: floors 1 to 6."""
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


class TestTheRulesThemselves:
    """The rules catch what they are for."""

    def test_a_missing_source_is_seen(self):
        assert not SAID_SOURCE.search("Return the mean.\n\nSource:\n")
        assert SAID_SOURCE.search("Return the mean.\n\nSource: JCGM-100, 4.2.1.")
        assert SAID_SOURCE.search("Return the mean; from memory.")

    def test_numbers_without_source_are_seen_at_any_depth(self):
        data = tomllib.loads("[a]\nsource = 's'\n[a.b]\nx = 1\n[[c]]\nname = 'n'\n[[c.d]]\ny = 2.0\n")
        assert _unsourced(data, "file") == ["file: c: d"]

    def test_a_host_and_a_machine_path_are_seen(self):
        assert REGISTRY.search("https" + "://some.mir" + "ror.example/simple")
        assert not REGISTRY.search("the mirror hangs on the wall, see http" + "://example.org/mirror")
        assert MACHINE_PATH.search("open('" + "/ho" + "me/someone/x')")

    def test_a_test_without_assertion_is_seen(self):
        source = (
            "def inner():\n    assert 1\ndef outer():\n    inner()\ndef test_x():\n    outer()\ndef test_y():\n    f()"
        )
        functions = ast.parse(source).body
        checkers = _checkers(functions)
        assert [node.name for node in functions if not _asserts(node, checkers)] == ["test_y"]
        assert _asserts(ast.parse("def test_z():\n    with pytest.raises(E):\n        f()").body[0], checkers)

    def test_the_walk_sees_files_of_every_kind(self):
        names = {path.name for path, _ in ours()}
        assert {"pyproject.toml", "start.py", "test_house.py", "requirements.lock"} <= names
