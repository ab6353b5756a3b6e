import datetime as dt
import json

from flueproof.capture.lines.pattern import Shown
from flueproof.capture.reading import Reading, body_of, moment_text


def test_a_batch_goes_over_the_wire_as_agreed():
    rows = [
        Reading(1, "2026-11-25T10:00:00.120+00:00", Shown("co", "ppm", 1, 402)),
        Reading(2, "2026-11-25T10:00:00.120+00:00", Shown("o2", "%", 0.1, "----")),
    ]
    assert json.loads(body_of("bench-1", rows)) == {
        "agent": "bench-1",
        "readings": [
            {
                "sequence": 1,
                "at": "2026-11-25T10:00:00.120+00:00",
                "channel": "co",
                "unit": "ppm",
                "step": 1,
                "shown": 402,
            },
            {
                "sequence": 2,
                "at": "2026-11-25T10:00:00.120+00:00",
                "channel": "o2",
                "unit": "%",
                "step": 0.1,
                "shown": "----",
            },
        ],
    }


def test_a_moment_is_sent_in_utc_with_its_offset():
    local = dt.datetime(2026, 11, 25, 5, 0, 0, 120_900, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
    assert moment_text(local) == "2026-11-25T10:00:00.120+00:00"
