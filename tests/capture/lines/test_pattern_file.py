import re

import pytest

from flueproof.capture.errors import PatternError
from flueproof.capture.lines.pattern_file import pattern_of, read_pattern, shipped_names, shipped_text

GOOD = shipped_text("simulated-us")


def broken(change, to):
    assert change in GOOD
    return GOOD.replace(change, to, 1)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("x = [", "is not TOML"),
        ("", "format"),
        (broken("pattern/1", "pattern/2"), "format must be"),
        (broken("title", "tittle"), "tittle is not a key"),
        (broken("step = 0.1", "step = 0"), "channels.o2.step"),
        (broken("step = 0.1", "step = true"), "channels.o2.step"),
        (broken("step = 0.1", ""), "channels.o2.step"),
        (broken("step = 0.1", "stepp = 0.1"), "channels.o2.stepp"),
        (broken('unit = "%"', "unit = 3"), "channels.o2.unit"),
        (broken("(?P<o2>", "(?P<o3>"), "'o3'"),
        (broken("(?P<o2>", "("), "channels.o2 is in no line"),
        (broken("(?P<o2>", "((?P<o2>"), "is not a regular expression"),
        (broken("[[line]]", "[line]"), "line is missing"),
        (re.sub(r"pattern = '.*'", "pattern = 'x'", GOOD), "no named group"),
        (re.sub(r"pattern = '.*'", "patern = 'x'", GOOD), r"line[0] must hold"),
        (re.sub(r"(?s)\[channels.*", "", GOOD), "channels is missing"),
        ('encoding = "utf-16"\n' + GOOD, "encoding"),
        ('encoding = "hex"\n' + GOOD, "encoding"),
        ('encoding = "nosuch"\n' + GOOD, "encoding"),
        ("longest = 3\n" + GOOD, "longest"),
        ("keep_first = 1\n" + GOOD, "keep_first"),
        ("texts = [1]\n" + GOOD, "texts"),
        (f"texts = ['{'x' * 41}']\n" + GOOD, "texts is longer"),
        (broken('unit = "%"', f'unit = "{"x" * 13}"'), "channels.o2.unit is longer"),
        (broken('unit = "%"', 'unit = "a\\tb"'), "channels.o2.unit is longer"),
        (GOOD.replace("<co>", f"<{'c' * 25}>").replace(".co]", f".{'c' * 25}]"), f"channels.{'c' * 25} is longer"),
        (broken("ignore = ['#.*']", "ignore = ['(']"), "ignore[0]"),
        (broken("ignore = ['#.*']", "ignore = '#'"), "ignore"),
    ],
)
def test_a_fault_is_named_by_its_key(text, named):
    with pytest.raises(PatternError) as refused:
        pattern_of(text, "our.toml")
    assert named in refused.value.message
    assert refused.value.message.startswith("our.toml: ")
    assert refused.value.remedy


def test_shipped_patterns_are_read_by_name_and_own_ones_by_file(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text(GOOD, encoding="utf-8")
    assert shipped_names() == ("simulated-us",)
    assert read_pattern(str(own)).lines == read_pattern("simulated-us").lines


@pytest.mark.parametrize("content", [None, b"\xff\xfe\x00", b"x" * 200_000])
def test_a_file_that_is_no_pattern_is_refused(content, tmp_path):
    file = tmp_path / "own.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(PatternError, match=r"own\.toml"):
        read_pattern(str(file))
