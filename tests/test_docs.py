"""The handbook stays true: its examples run, and what it lists is what the code has."""

import ast
import doctest
import json
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import get_args

import click
import pytest
from click.testing import CliRunner

from flueproof.analyzer.limit_sets import shipped_limit_set, shipped_limit_set_names
from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.bench.record.reader import read_record
from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.cli.judging.bundle_file import bundle_of
from flueproof.cli.main import program
from flueproof.metrology.conformity import RULE_NAMES
from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.simulate.demo import demo_records

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
    assert text_of("judging/how-a-number-is-computed.md").count(">>> ") > 8


def test_the_example_record_is_a_valid_record():
    (example,) = [block for block in blocks(text_of("judging/bench-record.md"), "json") if '"format"' in block]
    record = read_record(example.encode("utf-8"), "example")
    assert [step.kind for step in record.steps] == ["room", "zeroing", "test-gas"]


def test_every_step_kind_is_described_and_no_other():
    kinds = {get_args(model.model_fields["kind"].annotation)[0] for model in get_args(get_args(AnyStep)[0])}
    assert codes_in_table(text_of("judging/bench-record.md"), "kind") == kinds


def test_every_shipped_profile_is_described_and_no_other():
    assert codes_in_table(text_of("guide/profiles.md"), "name") == set(shipped_profile_names())


def test_every_decision_rule_is_described_and_no_other():
    assert codes_in_table(text_of("judging/decision-rules.md"), "name") == set(RULE_NAMES)


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
    assert words_in_verdicts("Action") - codes_in_table(text_of("judging/judgement.md"), "`do`") == set()


def test_every_outcome_is_described_in_both_places():
    outcomes = words_in_verdicts("Verdict")
    assert "ready-to-sign" in outcomes
    assert outcomes <= codes_in_table(text_of("guide/running-a-shop.md"), "outcome")
    assert outcomes <= set(re.findall(r"`([a-z-]+)` \|$", text_of("judging/verdict.md"), re.MULTILINE))


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


def test_every_paper_named_by_author_and_year_is_in_the_list_of_sources():
    told = " ".join(row.split("|")[1] for row in text_of("sources.md").splitlines() if row.startswith("|"))
    paper = re.compile(r"([A-Z][a-z]+)(?: and [A-Z][a-z]+| et al\.)? \(?((?:19|20)\d\d)\b")
    not_authors = {"Protocol", "January", "Oct", "Schema", "Symposium", "Workshop"}
    named = [(place, *found) for place, text in sources_in_code() for found in paper.findall(text)]
    unknown = [one for one in named if one[1] not in not_authors and not (one[1] in told and one[2] in told)]
    assert named
    assert not unknown, unknown


def test_every_publication_of_the_carried_values_is_in_the_list_of_sources():
    listed = {cell.strip() for row in text_of("sources.md").splitlines() for cell in row.split("|")[1:2]}
    keys = {key.strip() for cell in listed for key in cell.split(",")}
    entries = [
        entry
        for path in sorted((ROOT / "tests/published/data").glob("*.json"))
        for entry in json.loads(path.read_text(encoding="utf-8"))
    ]
    named = {key for entry in entries for key in PUBLICATION.findall(json.dumps(entry["source"]))}
    assert "JCGM 100:2008" in named
    assert {key for key in named if not any(_same(key, one) for one in keys)} == set()


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


def examples_in_docs():
    """Return the command lines of the pages, without those of start.py and without the whole demo."""
    text = "\n".join(page.read_text(encoding="utf-8") for page in PAGES)
    lines = [line for block in blocks(text, "sh") for line in block.splitlines() if line.startswith("flueproof ")]
    return sorted({line.partition(" > ")[0] for line in lines if not line.startswith("flueproof demo")})


@pytest.fixture
def bench_folder(tmp_path, monkeypatch):
    """A folder with the files that the examples name, as the current one."""
    written = json.dumps(demo_records()[0].record)
    (tmp_path / "visits").mkdir()
    (tmp_path / "papers/my-visit").mkdir(parents=True)
    profile = (ROOT / "src/flueproof/analyzer/data/profiles/two-cell-residential.toml").read_text(encoding="utf-8")
    for name, text in {
        "my-visit.json": written,
        "visits/one.json": written,
        "our-shop.json": blocks(text_of("judging/recomputing.md"), "json")[0],
        "papers/my-visit/judgement.json": blocks(text_of("judging/recomputing.md"), "json")[0],
        "our-residential.toml": profile,
        "lines.txt": "O2=20.9 % CO=0 ppm T=72 F TA=71.6 F P=0.00 inH2O\n",
        "field-log.csv": "o2,co,stack,air\n5,100,200,20\n8,40,180,20\n",
        "trace.csv": "time_s,co_ppm\n0,0\n30,402\n60,468\n90,481\n120,486\n",
    }.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("line", examples_in_docs())
def test_every_example_on_the_command_line_works(line, bench_folder):
    words = shlex.split(line)[1:]
    if "--out" in words:
        words.append("--overwrite")
    done = CliRunner().invoke(program, words)
    assert done.exit_code == 0, done.output
    assert done.output


def test_every_command_of_the_program_is_described_and_no_other():
    commands = program.list_commands(click.Context(program))
    described = codes_in_table(text_of("guide/commands.md"), "command")
    assert described == set(commands)


def all_commands(group=program, words="flueproof"):
    """Yield (words, command) for every command that does something itself, `flueproof gas decide` say."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from all_commands(command, f"{words} {name}")
        else:
            yield f"{words} {name}", command


def option_rows(command):
    """Return the rows that the page of the commands must have for a command, from the words of its --help."""
    context = click.Context(command)
    told = [one.get_help_record(context) for one in command.params if isinstance(one, click.Option)]
    cells = [(re.sub(r"\s+", " ", names), re.sub(r"\s+", " ", words)) for names, words in told if "--help" not in names]
    return ["| `{}` | {} |".format(*(cell.replace("|", "\\|") for cell in row)) for row in cells]


def section(text, heading):
    return re.search(rf"(?ms)^## {re.escape(heading)}$\n(.*?)(?=^## |\Z)", text).group(1)


@pytest.mark.parametrize(("words", "command"), list(all_commands()), ids=lambda one: getattr(one, "name", one))
def test_the_page_of_commands_says_what_help_says(words, command):
    table = re.search(r"(?m)^\| option \|.*\n\|[-| ]+\n((?:\|.*\n?)*)", section(text_of("guide/commands.md"), words))
    wanted = option_rows(command)
    assert table.group(1).splitlines() == wanted, "the table should read:\n" + "\n".join(wanted)


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


def notes_in_code():
    """Return {code: blocks} of every Note that the judge can write."""
    found = {}
    for path in sorted((ROOT / "src/flueproof/bench").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Note":
                found[node.args[0].value] = any(word.arg == "blocks" and word.value.value for word in node.keywords)
    return found


def test_every_note_is_described_with_what_it_stops():
    rows = re.findall(r"(?m)^\| `([a-z-]+)` \|.*\| (yes|no) \|$", text_of("judging/notes.md"))
    assert {code: word == "yes" for code, word in rows} == notes_in_code()


def test_every_label_size_is_described_as_it_is():
    sizes = shipped_sizes()
    rows = re.findall(r"(?m)^\| `([a-z0-9-]+)` \| .* \| ([\d.]+) mm \| ([\d.]+) mm \|$", text_of("guide/stickers.md"))
    shipped = {name: (size.width_mm, size.height_mm) for name, size in {**sizes.single, **sizes.sheet}.items()}
    assert {name: (float(width), float(height)) for name, width, height in rows} == shipped


def test_every_limit_set_is_described_as_it_was_read():
    rows = re.findall(r"(?m)^\| `([a-z0-9-]+)` \| [^|]* \| ([a-z ]+)[;|]?.*\|$", text_of("guide/profiles.md"))
    told = {name: provenance.strip() for name, provenance in rows}
    assert told == {name: shipped_limit_set(name).provenance for name in shipped_limit_set_names()}


def test_every_benchmark_is_described_and_no_other():
    described = set(re.findall(r"(?m)^## `(.*\.py)`$", text_of("measured-figures.md")))
    assert described == {path.name for path in (ROOT / "benchmarks").glob("*.py")}


def test_the_example_bundle_is_read_as_a_bundle():
    (example,) = blocks(text_of("judging/recomputing.md"), "json")
    bundle = bundle_of(json.loads(example))
    assert bundle.share_in_limits == 0.85


def test_the_example_order_has_limits_that_a_record_may_have():
    record = json.loads(blocks(text_of("judging/bench-record.md"), "json")[0])
    (example,) = blocks(text_of("guide/profiles.md"), "json")
    read = read_record(json.dumps({**record, **json.loads(example)}).encode("utf-8"), "example")
    assert read.order.limits["co"].percent == 5


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.relative_to(DOCS).as_posix())
def test_pages_use_the_words_of_the_glossary(page):
    text = page.read_text(encoding="utf-8")
    avoided = set(re.findall(r"\b(?:customers?|clients?|tickets?|cal gas|testers?)\b", text))
    assert page.name == "glossary.md" or not avoided


def test_no_word_stands_twice_in_the_glossary():
    words = [word.strip() for word in re.findall(r"(?m)^\| ([^|]+) \|", text_of("glossary.md"))]
    assert [word for word in words if words.count(word) > 1 and word != "word"] == []


@pytest.mark.parametrize("page", [*PAGES, ROOT / "README.md"], ids=lambda path: path.name)
def test_pages_keep_one_sentence_a_line(page):
    """Prose only: tables, lists, terms, titles and blocks may hold several short ones."""
    prose = re.sub(r"(?ms)^```.*?^```", "", page.read_text(encoding="utf-8"))
    lines = [line for line in prose.splitlines() if re.match(r"[A-Z`\[]", line)]
    assert [line for line in lines if re.search(r"[a-z)\]][.!?] [A-Z]", line)] == []


def keys_of(schema):
    """Return the names of all properties in a JSON Schema."""
    found = set()
    if isinstance(schema, dict):
        found |= set(schema.get("properties", {}))
        schema = list(schema.values())
    if isinstance(schema, list):
        found = found.union(*(keys_of(one) for one in schema))
    return found


@pytest.mark.parametrize(("of", "page"), [("record", "judging/bench-record.md"), ("judgement", "judging/judgement.md")])
def test_every_key_of_a_format_is_described(of, page):
    keys = keys_of(json.loads(CliRunner().invoke(program, ["schema", of]).output))
    assert "step" in keys
    assert {key for key in keys if not re.search(rf"[`.\"]{key}[`\"]", text_of(page))} == set()
