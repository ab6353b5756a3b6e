"""The handbook stays true: its examples run, and what it lists is what the code has."""

import ast
import doctest
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import get_args

import click
import pytest

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.bench.record.reader import read_record
from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.cli.main import program
from flueproof.metrology.conformity import RULE_NAMES

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
PAGES = sorted(path for path in DOCS.rglob("*.md") if "_build" not in path.parts)
FLOORS_1_AND_2 = ("metrology", "testgas", "readings", "pictures", "analyzer")
PUBLICATION = re.compile(
    r"\b(JCGM \d+:\d{4}|ILAC-G\d+:\d\d/\d{4}|ISO(?:/IEC|/TS)? \d+(?:-\d+)?(?::\d{4})?|IEC \d+(?:-\d+)?:\d{4}"
    r"|OIML R \d+(?:-\d)?(?::\d{4})?|\d\d CFR \d+(?:\.\d+)?|EA-4/02|NIST (?:SP \d+|Monograph \d+|StRD)|EN \d{5}(?:-\d)?"
    r"|RFC \d+|FIPS \d+-\d|EPA (?:Traceability Protocol|CTM-\d+)|VDI \d+|ASTM [A-Z]\d+|DIN \d+)"
)


def text_of(page):
    return (DOCS / page).read_text(encoding="utf-8")


def blocks(text, language):
    return re.findall(rf"(?ms)^```{language}\n(.*?)^```", text)


def codes_in_table(text, column_title):
    """Return the `codes` in the first column of the table whose first heading is column_title."""
    rows = re.search(rf"(?m)^\| {re.escape(column_title)} \|.*\n\|[-| ]+\n((?:\|.*\n?)+)", text).group(1)
    return {code for row in rows.splitlines() for code in re.findall(r"`([^`]+)`", row.split("|")[1])}


def sources_in_code():
    """Return (place, text) of what stands after `Source:` in docstrings and as `source` in data files."""
    found = []
    for path in sorted((ROOT / "src").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                after = re.search(r"(?s)Source:(.*)", ast.get_docstring(node) or "")
                found += [(f"{path.name} {node.name}", after.group(1))] if after else []
    for path in sorted((ROOT / "src").rglob("*.toml")):
        named = re.findall(r'(?m)^\s*\w*source = "(.*)"', path.read_text(encoding="utf-8"))
        found += [(path.name, text) for text in named]
    return found


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.relative_to(DOCS).as_posix())
def test_python_examples_give_what_the_page_says(page):
    text = page.read_text(encoding="utf-8")
    examples = doctest.DocTestParser().get_doctest("\n".join(blocks(text, "python")), {}, page.name, str(page), 0)
    outcome = doctest.DocTestRunner(verbose=False).run(examples)
    assert outcome.failed == 0
    assert outcome.attempted == text.count(">>> ")


def test_the_page_on_numbers_has_examples():
    assert text_of("guide/how-a-number-is-computed.md").count(">>> ") > 8


def test_the_example_record_is_a_valid_record():
    (example,) = [block for block in blocks(text_of("guide/bench-record.md"), "json") if '"format"' in block]
    record = read_record(example.encode("utf-8"), "example")
    assert [step.kind for step in record.steps] == ["room", "zeroing", "test-gas"]


def test_every_step_kind_is_described_and_no_other():
    kinds = {get_args(model.model_fields["kind"].annotation)[0] for model in get_args(get_args(AnyStep)[0])}
    assert codes_in_table(text_of("guide/bench-record.md"), "kind") == kinds


def test_every_shipped_profile_is_described_and_no_other():
    assert codes_in_table(text_of("guide/profiles.md"), "name") == set(shipped_profile_names())


def test_every_decision_rule_is_described_and_no_other():
    assert codes_in_table(text_of("guide/decision-rules.md"), "name") == set(RULE_NAMES)


def words_in_verdicts(call):
    """Return the first words of all calls of that name in the code of the verdict: Action("adjust", ...)."""
    found = set()
    for path in sorted((ROOT / "src/flueproof/bench").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named = isinstance(node, ast.Call) and getattr(node.func, "id", "") == call and node.args
            if named and isinstance(node.args[0], ast.Constant):
                found.add(node.args[0].value)
    return found


def test_every_action_that_the_judge_can_ask_for_is_described():
    assert "adjust" in words_in_verdicts("Action")
    assert words_in_verdicts("Action") - codes_in_table(text_of("guide/judgement.md"), "`do`") == set()


def test_every_outcome_is_described_in_both_places():
    outcomes = words_in_verdicts("Verdict")
    assert "ready-to-sign" in outcomes
    assert outcomes <= codes_in_table(text_of("guide/running-a-shop.md"), "outcome")
    assert outcomes <= set(re.findall(r"`([a-z-]+)` \|$", text_of("guide/verdict.md"), re.MULTILINE))


def test_the_example_profile_uses_keys_that_profiles_have():
    (example,) = blocks(text_of("guide/profiles.md"), "toml")
    shipped = ROOT / "src/flueproof/analyzer/data/profiles/two-cell-residential.toml"
    shown, real = tomllib.loads(example), tomllib.loads(shipped.read_text(encoding="utf-8"))
    assert shown.keys() <= real.keys()
    assert shown["channels"]["co"].keys() <= real["channels"]["co"].keys()
    assert shown["channels"]["co"]["limits"][0] == real["channels"]["co"]["limits"][0]


def test_every_publication_in_the_code_is_in_the_list_of_sources():
    listed = {cell.strip() for row in text_of("sources.md").splitlines() for cell in row.split("|")[1:2]}
    keys = {key.strip() for cell in listed for key in cell.split(",")}
    named = [(place, key) for place, text in sources_in_code() for key in PUBLICATION.findall(text)]
    unknown = [f"{place}: {key}" for place, key in named if not any(_same(key, one) for one in keys)]
    assert named
    assert not unknown, "\n".join(unknown)


def _same(key, listed):
    return bool(listed) and (
        listed == key or listed.startswith((key + ":", key + "-")) or key.startswith((listed + ":", listed + "-"))
    )


def commands_in_docs():
    """Return the commands that the pages tell people to type, as tuples of words, without options and files."""
    text = "\n".join(page.read_text(encoding="utf-8") for page in PAGES)
    typed = re.findall(r"(?m)(?:^|`)flueproof ((?:[a-z]+(?=[ `\n]) ?)+)", text)
    return sorted({tuple(words.split()) for words in typed})


@pytest.mark.parametrize("words", commands_in_docs(), ids=" ".join)
def test_every_command_in_the_pages_exists(words):
    typed = "import sys; from flueproof.cli.main import main; sys.argv[0] = 'flueproof'; main()"
    done = subprocess.run([sys.executable, "-c", typed, *words, "--help"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_every_command_of_the_program_is_described_and_no_other():
    commands = program.list_commands(click.Context(program))
    described = codes_in_table(text_of("guide/commands.md"), "command")
    assert described == set(commands)


def test_links_of_the_first_page_lead_somewhere():
    targets = re.findall(r"\]\(([^)#:]+)\)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert targets
    assert [target for target in targets if not (ROOT / target).exists()] == []


def test_every_decision_record_has_its_four_parts():
    records = sorted((DOCS / "decisions").glob("0*.md"))
    numbers = [int(path.name[:4]) for path in records]
    assert numbers == list(range(1, len(records) + 1))
    for path in records:
        headings = re.findall(r"(?m)^## (.*)$", path.read_text(encoding="utf-8"))
        assert headings == ["Context", "Decision", "Status", "Consequences"], path.name
