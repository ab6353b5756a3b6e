import pytest

from flueproof.simulate.live.analyzer import Feed, LiveAnalyzer
from flueproof.simulate.live.control import GRAMMAR, obey


@pytest.fixture
def analyzer():
    return LiveAnalyzer()


@pytest.mark.parametrize(
    ("line", "answer", "feed"),
    [
        ("gas cyl-co-500 tip", "ok cyl-co-500 on at the tip", Feed(0.0, "cyl-co-500")),
        ("GAS  cyl-co-500", "ok cyl-co-500 on at the tip", Feed(0.0, "cyl-co-500")),
        ("gas cyl-co-500 instrument", "ok cyl-co-500 on at the instrument", Feed(0.0, "cyl-co-500", "instrument")),
        (
            "gas cyl-co-500 pinched",
            "ok cyl-co-500 on at the instrument, inlet pinched",
            Feed(0.0, "cyl-co-500", "instrument", pinched=True),
        ),
        ("gas off", "ok room air", Feed(0.0)),
        ("air", "ok room air", Feed(0.0)),
        ("temperature 200", "ok probe at 200 degC", Feed(0.0)),
        ("draft -25", "ok draft -25 Pa", Feed(0.0)),
        ("zero", "ok zeros set", Feed(0.0)),
        ("room-co 12.5", "ok 12.5 ppm CO in the room", Feed(12.5)),
    ],
)
def test_a_command_is_done_and_answered(line, answer, feed, analyzer):
    assert obey(analyzer, line) == answer
    assert analyzer.feed == feed


@pytest.mark.parametrize(
    "line",
    ["", "gass", "gas", "gas cyl-nosuch", "gas cyl-co-500 nose", "gas a b c", "gas pinched", "temperature",
     "temperature hot", "temperature nan", "draft 1 2", "draft inf", "adjust co", "adjust stack 3", "adjust co x",
     "air now", "zero 1", "room-co -3"],
)  # fmt: skip
def test_what_is_not_understood_is_refused_with_a_reason_and_changes_nothing(line, analyzer):
    assert obey(analyzer, line).startswith("no: ")
    assert analyzer.feed == Feed(0.0)


def test_adjusting_is_answered_as_the_unit_does(analyzer):
    obey(analyzer, "gas cyl-co-500 instrument")
    analyzer.step(600.0)
    assert obey(analyzer, "adjust co 480") == "ok co set to 480"
    assert obey(analyzer, "adjust co 5000") == "no: the unit does not accept the value"
    assert obey(analyzer, "zero").startswith("no: gas is on")


def test_bottles_show_and_help_answer_on_one_line(analyzer):
    assert "cyl-co-500" in obey(analyzer, "bottles")
    assert obey(analyzer, "show").startswith("ok O2=20.9 % CO=0 ppm T=")
    said = obey(analyzer, "help")
    assert all(grammar in said for grammar, _ in GRAMMAR)
