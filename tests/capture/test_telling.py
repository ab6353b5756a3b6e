import io
import json

from flueproof.capture.telling import Telling, one_line


def test_words_for_a_person_and_json_for_a_program():
    words, rows = io.StringIO(), io.StringIO()
    Telling(as_json=False, stream=words)("report", "3 lines.", lines=3)
    Telling(as_json=True, stream=rows)("report", "3 lines.", lines=3)
    assert words.getvalue() == "3 lines.\n"
    assert json.loads(rows.getvalue()) == {"event": "report", "text": "3 lines.", "lines": 3}


def test_what_an_analyzer_sends_cannot_steer_the_terminal():
    assert one_line("a\x1b[2J\r\nb") == "a\\x1b[2J\\r\\nb"


def test_a_closed_output_does_not_stop_the_agent():
    stream = io.StringIO()
    tell = Telling(as_json=False, stream=stream)
    tell("report", "one")
    stream.close()
    tell("report", "two")
    assert stream.closed


def test_an_output_in_plain_letters_gets_plain_letters():
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii")
    Telling(as_json=False, stream=stream)("report", "20 °C")
    stream.flush()
    assert raw.getvalue() == b"20 ?C\n"
