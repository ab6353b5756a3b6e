"""`flueproof gas` names its commands and the cautions."""


def test_help_names_the_three_commands_and_the_cautions(run):
    text = " ".join(run("gas", "--help").stdout.split())
    assert all(name in text for name in ("contents", "expiry", "decide"))
    assert "Local codes and licensed practice come first" in text
