"""`flueproof impact`: a judged record and a field log in, the list, what changes and the letter out."""

import csv
import io
import json

import pytest

LOG = "date,site,fuel,O2,CO,stack degC,air degC\n2026-09-01,House 1,natural gas,5.0,80,200,20\n"
LIMIT = {"name": "House rule", "quantity": "co_air_free_ppm", "comparison": "at-most", "value": 110}
RULE = "It never clears an appliance"


@pytest.fixture
def log(tmp_path):
    """Return a function that writes a log and returns its file."""

    def write(text=LOG):
        path = tmp_path / "log.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    return write


@pytest.fixture
def limits(tmp_path):
    """Return a function that writes limits and returns their file."""

    def write(told=None):
        path = tmp_path / "limits.json"
        path.write_text(told if isinstance(told, str) else json.dumps([LIMIT] if told is None else told))
        return path

    return write


@pytest.fixture
def low(demo_files):
    return demo_files["co-cell-low"]


def test_what_changes_is_said_with_the_rule_above_it(run, low, log, limits):
    done = run("impact", low, "--log", log(), "--limits", limits())
    assert done.exit_code == 0
    said = " ".join(done.stdout.split())
    assert said.startswith("A corrected value may raise an alarm.")
    assert "1 was inside the limit, is outside" in said
    assert "2026-09-01 House 1: was inside the limit, is outside" in said


def test_the_same_as_json(run, low, log, limits):
    told = json.loads(run("impact", low, "--log", log(), "--limits", limits(), "--json").stdout)
    assert RULE in told["rule"]
    assert told["counts"]["now-outside"] == 1
    assert told["problems"] == []
    assert abs(told["rows"][0]["shown"]["co_air_free_ppm"] - 105.2) < 0.05


def test_list_and_letter_are_written_and_not_over_others(run, low, log, limits, tmp_path):
    out = tmp_path / "told"
    words = ("impact", low, "--log", log(), "--limits", limits(), "--out", out, "--last-good", "2026-01-05")
    assert run(*words).exit_code == 0
    assert sorted(path.name for path in out.iterdir()) == ["list.csv", "list.json", "notice.pdf"]
    assert (out / "notice.pdf").read_bytes().startswith(b"%PDF")
    head, row = csv.reader(io.StringIO((out / "list.csv").read_text(encoding="utf-8-sig"), newline=""))
    assert row[head.index("what became of it")] == "was inside the limit, is outside"
    again = run(*words)
    assert again.exit_code == 2
    assert "holds list.csv, list.json, notice.pdf already" in again.stderr
    assert run(*words, "--overwrite").exit_code == 0


def test_with_nothing_to_tell_there_is_no_letter(run, demo_files, log, tmp_path):
    assert run("impact", demo_files["healthy"], "--log", log(), "--out", tmp_path / "told").exit_code == 0
    assert sorted(path.name for path in (tmp_path / "told").iterdir()) == ["list.csv", "list.json"]


def test_a_line_that_cannot_be_read_is_named_and_the_others_are_worked_through(run, low, log):
    done = run("impact", low, "--log", log(LOG + "2026-09-02,House 2,,?,,,\n"))
    assert done.exit_code == 2
    assert "log.csv: line 3, O2: '?' is no number" in done.stderr
    assert "1 corrected; no limit was chosen to compare it with" in done.stdout


def test_what_the_log_leaves_open_names_the_option_that_answers_it(run, low, log):
    text = "date,O2,stack,air\n03/04/2026,5,392,68\n"
    for options, asked in (((), "--dates month-first"), (("--dates", "day-first"), "--temperatures degF")):
        done = run("impact", low, "--log", log(text), *options)
        assert done.exit_code == 2
        assert asked in done.stderr
    done = run("impact", low, "--log", log(text), "--dates", "day-first", "--temperatures", "degF", "--json")
    row = json.loads(done.stdout)["rows"][0]
    assert (row["day"], row["stack_c"]) == ("2026-04-03", 200.0)


def test_an_earlier_record_is_the_start_and_must_be_of_the_same_analyzer(run, record, put, log):
    now, before = record("co-cell-low"), record("healthy")
    before["analyzer"]["serial"] = now["analyzer"]["serial"]
    words = ("impact", put(now, "now.json"), "--log", log(), "--earlier")
    done = run(*words, put(before, "before.json"), "--last-good", "2026-01-05", "--json")
    assert done.exit_code == 0
    assert not any("last good date no measured values" in note for note in json.loads(done.stdout)["notes"])
    assert "stands without --last-good" in run(*words, put(before, "before.json")).stderr
    other = run(*words, put(record("healthy"), "other.json"), "--last-good", "2026-01-05")
    assert (other.exit_code, "of another analyzer" in other.stderr) == (2, True)


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("{", "is not JSON"),
        ("{}", "holds no list of limits"),
        ('[{"name": "x"}]', "lacks comparison, quantity, value"),
        ([{**LIMIT, "quantity": "luck"}], "no quantity that is corrected"),
    ],
)
def test_limits_that_are_none_are_refused(run, low, log, limits, told, said):
    done = run("impact", low, "--log", log(), "--limits", limits(told))
    assert done.exit_code == 2
    assert said in done.stderr


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty"),
        ("O2\n?\n", "no reading can be read. The first: line 2, O2"),
        ("date\n2026-01-01\n", "no column with O2"),
        (b"\x00\x01", "no text"),
    ],
)
def test_a_log_that_is_none_is_refused(run, low, log, text, said):
    done = run("impact", low, "--log", log(text))
    assert done.exit_code == 2
    assert said in done.stderr


def test_bad_options_and_records_are_refused(run, low, demo_files, log, tmp_path):
    for words, said in (
        ((low, "--log", log(), "--fuel", "coffee"), "'coffee' is not known"),
        ((low, "--log", log(), "--last-good", "2026-12-24"), "lies after"),
        ((low, "--log", tmp_path / "nowhere.csv"), "No such file"),
        ((log(), "--log", log()), "log.csv"),
    ):
        done = run("impact", *words)
        assert done.exit_code == 2, words
        assert said in done.stderr, words


def test_without_a_measurement_as_found_nothing_can_be_said(run, record, put, log):
    tree = record("healthy")
    tree["steps"] = [step for step in tree["steps"] if step["kind"] in {"visual", "room", "zeroing", "note"}]
    done = run("impact", put(tree, "empty.json"), "--log", log())
    assert done.exit_code == 2
    assert "nothing was measured as found" in done.stderr
