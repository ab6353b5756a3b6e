from flueproof.bench.judgement import Action, CheckResult, Verdict
from flueproof.papers.content.checks import action_lines, check_rows


def test_the_gas_path_comes_first_with_its_dilution(judgement):
    rows = check_rows(judgement)
    assert rows[0]["what"] == "Gas path"
    assert rows[0]["result"] == "passed"
    assert "Room air at most: whole path 0.5 %." in rows[0]["text"]
    assert [row["result"] for row in rows[1:]] == ["passed", "passed", "noted"]


def test_a_leak_fails_and_what_cannot_be_told_stays_open(sample):
    result = lambda leak: check_rows(sample.judgement_of(gas_path={"leak": leak}, checks=()))[0]["result"]  # noqa: E731
    assert [result(leak) for leak in ("none", "probe", "unlocated", "cannot-tell")] == [
        "passed",
        "failed",
        "failed",
        "open",
    ]


def test_a_path_looked_at_from_the_inlet_on_is_not_called_tight(sample):
    path = {"leak": "none", "dilution": {"instrument": {"value": 0.0, "low": 0.0, "high": 0.004}}}
    row = check_rows(sample.judgement_of(gas_path=path, checks=()))[0]
    assert row["result"] == "in part"
    assert "the path before it was not tested" in row["text"]
    assert "Tight" not in row["text"]


def test_a_plug_at_the_tip_has_tested_the_whole_path(sample):
    path = {
        "leak": "none",
        "dilution": {"instrument": {"value": 0.0, "low": 0.0, "high": 0.004}},
        "evidence": [{"step": "s4", "kind": "plug-test", "feed": "tip", "lr": 0.04, "text": "Plugged at the tip."}],
    }
    row = check_rows(sample.judgement_of(gas_path=path, checks=()))[0]
    assert row["result"] == "passed"
    assert "not tested" not in row["text"]


def test_response_times_that_passed_share_a_row_per_phase(sample):
    def check(channel, phase, *, ok=True):
        return CheckResult("s", phase, "response", channel, ok=ok, text=f"{channel} in time.")

    checks = (
        check("o2", "as-found"),
        check("co", "as-found"),
        check("co", "as-left"),
        check("o2", "as-left", ok=False),
    )
    rows = check_rows(sample.judgement_of(gas_path={}, checks=checks))
    assert [(row["what"], row["phase"], row["result"]) for row in rows] == [
        ("Response times", "as found", "passed"),
        ("Response times", "as left", "passed"),
        ("Response time, O₂", "as left", "failed"),
    ]


def test_a_value_with_its_limit_is_added_once(sample):
    check = CheckResult("s", "as-left", "response", "co", ok=False, text="Slow.", value=75.0, unit="s", limit=60.0)
    (row,) = check_rows(sample.judgement_of(gas_path={}, checks=(check,)))
    assert row == {
        "what": "Response time, CO",
        "phase": "as left",
        "text": "Slow: 75 s (limit 60 s).",
        "result": "failed",
    }


def test_actions_say_what_to_enter_and_why():
    verdict = Verdict("work-needed", (
        Action("mend-path", "dilution 6 %", where="probe"),
        Action("adjust", "reads low", channel="co", enter={"unit": "ppm", "value": 502}),
    ))  # fmt: skip
    assert action_lines(verdict) == [
        {"do": "Mend the gas path (probe)", "deed": "Mend the gas path (probe)", "enter": "", "why": "dilution 6 %"},
        {"do": "Adjust: CO, enter 502 ppm", "deed": "Adjust: CO", "enter": "502 ppm", "why": "reads low"},
    ]
    assert action_lines(None) == []


def test_the_gas_path_of_each_phase_stands_before_its_checks(sample):
    path = {"leak": "probe", "dilution": {}, "as_left": {"leak": "none", "dilution": {"tip": {"high": 0.004}}}}
    checks = tuple(CheckResult("s", phase, "plug-test", None, ok=True, text="Holds.") for phase in
                   ("as-found", "as-left"))  # fmt: skip
    rows = check_rows(sample.judgement_of(gas_path=path, checks=checks))
    assert [(row["what"], row["phase"], row["result"]) for row in rows] == [
        ("Gas path", "as found", "failed"), ("Plug test", "as found", "passed"),
        ("Gas path", "as left", "passed"), ("Plug test", "as left", "passed"),
    ]  # fmt: skip
