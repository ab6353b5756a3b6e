import pytest

from flueproof.analyzer.profile_reader import shipped_profile_names
from flueproof.capture.lines.pattern_file import pattern_of, read_pattern
from flueproof.simulate.live.analyzer import LiveAnalyzer, LiveReading
from flueproof.simulate.live.lines import GREETING, line_of, pattern_text
from flueproof.simulate.truth import Truth


def test_a_line_is_label_value_and_unit_of_each_channel():
    readings = [
        LiveReading("o2", "%", 0.1, 20.9),
        LiveReading("co", "ppm", 1, "OVER"),
        LiveReading("draft", "inH2O", 0.01, 0.0),
        LiveReading("air", "degC", 0.1, 20.0),
    ]
    assert line_of(readings) == "O2=20.9 % CO=OVER ppm P=0.00 inH2O TA=20.0 C"


@pytest.mark.parametrize("us_units", [True, False])
@pytest.mark.parametrize("profile", shipped_profile_names())
def test_the_pattern_written_for_it_reads_every_line_back(profile, us_units):
    analyzer = LiveAnalyzer(profile, Truth(missing=frozenset({"air"}), gain={"co": 9.0}), us_units=us_units)
    pattern = pattern_of(pattern_text(analyzer.displays, "x"))
    analyzer.gas_on("cyl-co-500")
    for _ in range(100):
        readings = analyzer.step(2.0)
        found = pattern.read(line_of(readings))
        assert [(one.channel, one.unit, one.step, one.shown) for one in found] == [
            (one.channel, one.unit, one.step, one.shown) for one in readings
        ]


def test_the_shipped_pattern_is_the_one_for_the_usual_analyzer():
    written, shipped = pattern_of(pattern_text(LiveAnalyzer().displays, "x")), read_pattern("simulated-us")
    assert shipped.channels == written.channels
    line = line_of(LiveAnalyzer().step(1.0))
    assert shipped.read(line) == written.read(line)
    assert shipped.ignores(GREETING)
    assert written.ignores(GREETING)
