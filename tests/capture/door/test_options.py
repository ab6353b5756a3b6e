from flueproof.capture.door.options import COMMANDS, Option


def test_names_are_the_flags_without_dashes():
    assert Option("--token-file", "x").name == "token_file"
    assert Option("PATTERN", "x").name == "pattern"


def test_no_option_stands_twice_and_each_says_what_it_does():
    for command in COMMANDS:
        names = [one.name for one in command.options]
        assert len(names) == len(set(names))
        assert all(one.help.endswith(".") or "http" in one.help for one in command.options)
