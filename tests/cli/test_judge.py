"""`flueproof judge`: one record, folders, broken records, papers whole or not at all."""

import json
import os
import signal
import subprocess
import sys
import time

import pytest

from flueproof.cli.judge import RULES
from flueproof.metrology.conformity import RULE_NAMES
from flueproof.simulate.demo import demo_records

COMMAND = [sys.executable, "-c", "import sys; sys.argv[0] = 'flueproof'; from flueproof.cli.main import main; main()"]
FILE_FAULTS = {
    "empty": b"",
    "cut-short": b'{"format": "flueproof-bench-record/1", "job": ',
    "latin": '{"job": "Gerät"}'.encode("latin-1"),
    "utf-16": '{"job": "x"}'.encode("utf-16"),
    "zero-bytes": b"\x00" * 40,
    "list": b"[]",
    "twice": b'{"job": "a", "job": "b"}',
    "nested": b"[" * 50_000,
    "nan": b'{"job": NaN}',
    "huge": b'{"job": "' + b"x" * 120_000_000 + b'"}',
}


@pytest.fixture
def judged(run):
    """Return a function that judges with --json and returns (exit code, one object a line)."""

    def lines(*words):
        result = run("judge", *words, "--json")
        return result.exit_code, [json.loads(line) for line in result.stdout.splitlines()]

    return lines


class TestOneRecord:
    def test_a_leak_in_the_probe_is_told_in_full(self, run, demo_files):
        result = run("judge", demo_files["leak-in-probe"])
        assert result.exit_code == 0
        text = result.stdout
        assert "As found: work-needed" in text
        assert text.index("Mend the gas path (probe)") < text.index("Prove the gas path tight")
        assert "NOT CONFORM" in text
        assert "Not tested: CO channel on NO gas" in text
        assert "\x1b[" not in text  # no terminal, no colors

    def test_json_is_one_judgement_on_one_line(self, judged, demo_files):
        code, (only,) = judged(demo_files["adjusted"])
        assert code == 0
        assert only["format"] == "flueproof-judgement/1"
        assert only["record"] == "adjusted.json"
        assert only["as_left"]["outcome"] == "ready-to-sign"

    @pytest.mark.parametrize(("units", "sign"), [("us", "°F"), ("si", "°C")])
    def test_units_are_the_shops(self, run, demo_files, units, sign):
        text = run("judge", demo_files["healthy"], "--units", units).stdout
        assert sign in text
        assert ("inH₂O" in text) == (units == "us")

    def test_another_rule_is_used_and_named(self, judged, demo_files):
        _, (simple,) = judged(demo_files["healthy"], "--rule", "simple")
        _, (part,) = judged(demo_files["healthy"], "--rule", "guarded-rU", "--r", "0.5")
        assert simple["decision_rule"]["name"] == "simple"
        assert {point["guard"] for point in simple["points"]} == {0.0}
        assert part["decision_rule"]["r"] == 0.5
        assert part["points"][0]["guard"] == pytest.approx(0.5 * part["points"][0]["U"], rel=1e-9)

    def test_the_rules_offered_are_those_of_metrology(self):
        assert RULES == RULE_NAMES

    @pytest.mark.parametrize("words", [("--r", "0.5"), ("--rule", "guarded-rU"), ("--rule", "guarded-rU", "--r", "-3")])
    def test_half_a_rule_is_bad_input(self, run, demo_files, words):
        result = run("judge", demo_files["healthy"], *words)
        assert result.exit_code == 2
        assert result.stdout == ""
        assert len(result.stderr.splitlines()) == 1

    def test_a_bundle_from_a_judgement_gives_the_same_numbers(self, judged, demo_files, tmp_path):
        _, (first,) = judged(demo_files["healthy"])
        file = tmp_path / "judgement.json"
        file.write_text(json.dumps(first), encoding="utf-8")
        _, (again,) = judged(demo_files["healthy"], "--bundle", file)
        assert again == first

    def test_debug_shows_where_an_error_arose(self, run, tmp_path):
        quiet, told = (run("judge", tmp_path / "none.json", *more) for more in ((), ("--debug",)))
        assert "Traceback" not in quiet.stderr
        assert "Traceback" in told.stderr
        assert quiet.exit_code == told.exit_code == 2


class TestBrokenRecords:
    def test_every_broken_kind_is_refused_with_path_and_remedy_and_leaves_nothing(self, judged, put, broken, tmp_path):
        table, good = broken
        assert len(table) >= 40
        folder, expected = tmp_path / "visits", {}
        for number, (breaker, path, *_) in enumerate(table.values()):
            tree = json.loads(good)
            breaker(tree)
            file = put(tree, f"visit-{number:03d}.json", folder)
            expected[file.name] = path
        before = {file.name: file.read_bytes() for file in folder.iterdir()}
        code, lines = judged(folder, "--out", tmp_path / "papers", "--jobs", "1")
        assert code == 2
        assert {line["record"]: line["error"]["path"] for line in lines} == expected
        assert all(line["error"]["message"] and line["error"]["remedy"] for line in lines)
        assert {file.name: file.read_bytes() for file in folder.iterdir()} == before
        assert sorted(file.name for file in tmp_path.iterdir()) == ["visits"]

    @pytest.mark.parametrize("kind", [kind for kind in FILE_FAULTS if kind != "huge"])
    def test_a_file_that_is_no_record_is_refused(self, judged, run, put, tmp_path, kind):
        file = put(FILE_FAULTS[kind])
        code, (line,) = judged(file, "--out", tmp_path / "papers")
        assert code == 2
        assert line["error"]["path"].startswith("$")
        assert line["error"]["remedy"]
        assert not (tmp_path / "papers").exists()
        said = run("judge", file)
        assert said.exit_code == 2
        assert said.stdout == ""
        assert len(said.stderr.splitlines()) == 1

    def test_a_huge_file_is_refused_without_being_read_to_its_end(self, judged, put):
        code, (line,) = judged(put(FILE_FAULTS["huge"]))
        assert code == 2
        assert line["error"]["remedy"]

    def test_what_is_not_there_is_refused_and_the_others_go_on(self, judged, demo_files, tmp_path):
        (tmp_path / "empty").mkdir()
        code, lines = judged(tmp_path / "none.json", demo_files["healthy"], tmp_path / "empty", demo_files["draft-off"])
        assert code == 2
        assert [line["record"] for line in lines] == ["none.json", "healthy.json", "empty", "draft-off.json"]
        assert ["error" in line for line in lines] == [True, False, True, False]

    @pytest.mark.parametrize(
        ("key", "value", "word"),
        [("name", "my-own", "--profile FILE"), ("version", "7", "version"), ("sha256", "0" * 64, "very file")],
    )
    def test_a_profile_that_is_not_the_one_named_is_refused(self, judged, put, record, key, value, word):
        tree = record("healthy")
        tree["analyzer"]["profile"][key] = value
        code, (line,) = judged(put(tree))
        assert code == 2
        assert line["error"]["path"] == f"$.analyzer.profile.{key}"
        assert value in line["error"]["message"]
        assert word in line["error"]["remedy"]

    def test_an_unexpected_exception_is_told_by_its_class_and_stops_nothing(self, judged, demo_files, monkeypatch):
        from flueproof.cli.judging import one_record

        real = one_record.judge_record

        def judge_or_fall(record, profile, **more):
            if more["name"] == "draft-off.json":
                raise ZeroDivisionError("division by zero")
            return real(record, profile, **more)

        monkeypatch.setattr(one_record, "judge_record", judge_or_fall)
        code, (bad, good) = judged(demo_files["draft-off"], demo_files["healthy"])
        assert code == 2
        assert "ZeroDivisionError" in bad["error"]["message"]
        assert good["as_found"]["outcome"] == "ready-to-sign"

    def test_a_profile_file_that_is_none_is_refused_once(self, run, put, demo_files):
        file = put(b"name = 1", "mine.toml")
        result = run("judge", demo_files["healthy"].parent, "--profile", file, "--jobs", "2")
        assert result.exit_code == 2
        assert len(result.stderr.splitlines()) == 1
        assert "format" in result.stderr


class TestPapers:
    def test_a_certified_unit_gets_certificate_sticker_and_judgement(self, run, demo_files, tmp_path):
        result = run("judge", demo_files["healthy"], "--out", tmp_path / "a" / "papers", "--paper", "a4")
        assert result.exit_code == 0
        folder = tmp_path / "a" / "papers" / "healthy"
        assert {"certificate.pdf", "sticker.pdf", "judgement.json"} <= {file.name for file in folder.iterdir()}
        assert (folder / "certificate.pdf").read_bytes().startswith(b"%PDF")
        assert json.loads((folder / "judgement.json").read_text("utf-8"))["record"] == "healthy.json"
        assert [file.name for file in folder.parent.iterdir()] == ["healthy"]
        assert str(folder) in result.stdout

    def test_number_day_and_signer_stand_on_the_certificate(self, run, demo_files, tmp_path):
        from pypdfium2 import PdfDocument

        words = ("--number-prefix", "FP-", "--issued-on", "2026-12-24", "--signer", "Q. Ayers (invented)")
        run("judge", demo_files["healthy"], "--out", tmp_path, *words)
        with PdfDocument(tmp_path / "healthy" / "certificate.pdf") as document:
            text = " ".join(page.get_textpage().get_text_bounded() for page in document)
        assert "FP-J-2026-00001" in text
        assert "24 December 2026" in text
        assert "Q. Ayers (invented)" in text

    def test_a_failed_record_leaves_nothing_not_even_the_folder(self, run, put, tmp_path):
        result = run("judge", put(b"{}"), "--out", tmp_path / "new" / "papers")
        assert result.exit_code == 2
        assert not (tmp_path / "new").exists()

    def test_papers_that_cannot_be_made_leave_nothing(self, run, demo_files, tmp_path):
        result = run("judge", demo_files["healthy"], "--out", tmp_path / "papers", "--number-prefix", "N" * 60)
        assert result.exit_code == 2
        assert "certificate number" in result.stderr
        assert not (tmp_path / "papers").exists()

    def test_an_existing_folder_is_kept_unless_overwriting_was_asked(self, run, demo_files, tmp_path):
        word = ("judge", demo_files["draft-off"], "--out", tmp_path)
        assert run(*word).exit_code == 0
        mark = tmp_path / "draft-off" / "judgement.json"
        mark.write_text("{}", encoding="utf-8")
        refused = run(*word)
        assert refused.exit_code == 2
        assert "--overwrite" in refused.stderr
        assert mark.read_text("utf-8") == "{}"
        assert run(*word, "--overwrite").exit_code == 0
        assert json.loads(mark.read_text("utf-8"))["record"] == "draft-off.json"
        assert [file.name for file in tmp_path.iterdir()] == ["draft-off"]

    def test_overwriting_never_takes_a_folder_of_something_else(self, run, demo_files, tmp_path):
        other = tmp_path / "draft-off" / "letter.txt"
        other.parent.mkdir()
        other.write_text("keep me", encoding="utf-8")
        result = run("judge", demo_files["draft-off"], "--out", tmp_path, "--overwrite")
        assert result.exit_code == 2
        assert other.read_text("utf-8") == "keep me"

    def test_two_records_of_one_name_do_not_take_each_others_folder(self, judged, put, record, tmp_path):
        first = put(record("draft-off"), "x.json", tmp_path / "one")
        second = put(record("draft-off"), "x.json", tmp_path / "two")
        code, (good, bad) = judged(first, second, "--out", tmp_path / "papers")
        assert code == 2
        assert "points" in good
        assert "same name" in bad["error"]["message"]

    def test_one_number_on_two_papers_is_said(self, run, put, record, tmp_path):
        files = [put(record("draft-off"), name) for name in ("x.json", "y.json")]
        result = run("judge", *files, "--out", tmp_path / "papers")
        assert "one certificate number on several papers" in result.stderr

    def test_out_that_is_a_file_is_refused_before_anything(self, run, demo_files, tmp_path):
        file = tmp_path / "papers"
        file.write_text("", encoding="utf-8")
        result = run("judge", demo_files["healthy"], "--out", file)
        assert result.exit_code == 2
        assert "no folder" in result.stderr


class TestManyRecords:
    @pytest.fixture
    def folder(self, put, tmp_path):
        """200 visits with jobs of their own, the 113th cut short."""
        quick = [one.record for one in demo_records() if one.name in {"no-probe-came", "expired-cylinder", "draft-off"}]
        for number in range(200):
            tree = {**quick[number % len(quick)], "job": f"J-{number:03d}"}
            put(b'{"format": ' if number == 112 else tree, f"visit-{number:03d}.json", tmp_path / "visits")
        return tmp_path / "visits"

    def test_two_hundred_side_by_side_come_in_order_and_one_bad_one_stops_none(self, judged, folder):
        code, lines = judged(folder, "--jobs", "2")
        assert code == 2
        assert [line["record"] for line in lines] == [f"visit-{number:03d}.json" for number in range(200)]
        assert [line["record"] for line in lines if "error" in line] == ["visit-112.json"]
        assert [line["job"] for line in lines if "job" in line][:3] == ["J-000", "J-001", "J-002"]

    def test_side_by_side_says_the_same_as_one_after_the_other(self, judged, demo_files):
        files = [demo_files[name] for name in sorted(demo_files)][:10]
        assert judged(*files, "--jobs", "2") == judged(*files, "--jobs", "1")

    def test_a_list_has_one_line_each_and_progress_where_asked(self, run, demo_files):
        result = run("judge", demo_files["healthy"], demo_files["leak-in-probe"], "--progress")
        assert result.stdout.splitlines() == [
            "healthy.json: ready-to-sign",
            "leak-in-probe.json: work-needed; mend-path probe and 1 more",
        ]
        assert "2 of 2 records" in result.stderr
        assert "2 of 2 records judged" in result.stderr

    @pytest.mark.skipif(os.name == "nt", reason="a group of processes is stopped in another way there")
    def test_stopping_leaves_only_whole_folders(self, folder, tmp_path):
        out = tmp_path / "papers"
        # A process in the background of a shell is started deaf to SIGINT, and this one must hear it.
        hears = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); " + COMMAND[-1]
        started = subprocess.Popen(
            [*COMMAND[:-1], hears, "judge", str(folder), "--json", "--out", str(out), "--jobs", "2"],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            start_new_session=True,
        )
        assert started.stdout.readline().startswith(b'{"format"')
        os.killpg(started.pid, signal.SIGINT)
        told, said = started.communicate(timeout=60)
        assert started.returncode == 130, (told[-600:], said)
        assert said.decode().splitlines() == ["flueproof: stopped; what was finished stands."]
        time.sleep(0.1)
        made = sorted(out.iterdir())
        assert 0 < len(made) < 199
        assert all((one / "judgement.json").is_file() for one in made)
        assert not [one.name for one in made if one.name.startswith(".")]


class TestRealRuns:
    @pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
    def test_output_survives_any_encoding(self, demo_files, encoding):
        environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
        done = subprocess.run(
            [*COMMAND, "judge", str(demo_files["leak-in-probe"])], capture_output=True, env=environment, check=False
        )
        assert done.returncode == 0, done.stderr
        text = done.stdout.decode(encoding)
        assert "NOT CONFORM" in text
        assert "?" not in text
        assert ("°F" in text) == (encoding == "utf-8")
        assert ("degF" in text) == (encoding != "utf-8")

    def test_json_survives_ascii_and_says_the_same(self, put, record):
        tree = record("healthy")
        tree["job"] = "J-Ä-1"
        file = put(tree, "Gerät.json")
        told = []
        for encoding in ("ascii", "utf-8"):
            environment = {**os.environ, "PYTHONIOENCODING": encoding}
            command = [*COMMAND, "judge", str(file), "--json"]
            done = subprocess.run(command, capture_output=True, env=environment, check=True)
            told.append(json.loads(done.stdout.decode(encoding)))
        assert told[0] == told[1]
        assert told[0]["record"] == "Gerät.json"
        assert told[0]["job"] == "J-Ä-1"


def test_an_empty_out_is_refused_and_writes_nothing(run, demo_files, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for words in (("judge", demo_files["healthy"]), ("demo", "--papers")):
        result = run(*words, "--out", "")
        assert result.exit_code == 2
        assert "--out: is empty." in result.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["a\nsecond line.json", "b\x1b[31mred.json", "c\u202egnp.json"])
def test_control_characters_in_a_name_are_printed_escaped(run, record, put, name):
    for content in (record("healthy"), b"{}"):
        file = put(content, name)
        result = run("judge", file)
        raw = set("\x1b\u202e") & set(result.output)
        assert not raw
        assert "\nsecond line" not in result.output
        assert name.encode("unicode_escape").decode() in result.output


def test_a_rule_other_than_the_ordered_one_is_said(run, demo_files):
    said = run("judge", demo_files["healthy"], "--rule", "guarded-rU", "--r", "0.5").stdout
    assert "Decision rule guarded-rU with r = 0.5 given here; the order names risk-2." in said.splitlines()
    assert "given here" not in run("judge", demo_files["healthy"], "--rule", "risk-2").stdout
    assert "given here" not in run("judge", demo_files["healthy"]).stdout
