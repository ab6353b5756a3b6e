from datetime import date

from flueproof.papers.content.work_done import done_in_words, item_name, work_dates, work_lines


def test_the_days_are_those_the_bench_wrote_in_its_own_offset(sample):
    given = sample.record_json()
    for step in given["steps"]:
        step["at"] = step["at"].replace("T09:", "T22:").replace("T10:", "T23:")
    assert work_dates(sample.record_of(given)) == (date(2026, 11, 3), date(2026, 11, 3))


def test_work_over_two_days_names_both(sample):
    given = sample.record_json()
    given["steps"][-1]["at"] = "2026-11-05T09:00:00-05:00"
    assert done_in_words(sample.record_of(given)) == "3 November 2026 to 5 November 2026"


def test_each_kind_of_work_has_its_line(sample):
    given = sample.record_json()
    at = {"at": "2026-11-03T10:25:00-05:00", "by": "R. Vale"}
    given["steps"][-1:-1] = [
        {"id": "w1", **at, "kind": "part", "done": "replaced", "what": "co cell", "serial": "B9", "opened_case": True},
        {"id": "w2", **at, "kind": "upkeep", "done": "new-filter", "what": "particle filter"},
        {"id": "w3", **at, "kind": "drain"},
        {"id": "w4", **at, "kind": "adjust", "channel": "o2", "accepted": False},
    ]
    assert work_lines(sample.record_of(given)) == [
        "Adjusted CO, 502 ppm entered at the display.",
        "Replaced: CO cell, serial B9; case opened.",
        "New filter: particle filter.",
        "Condensate drained.",
        "Tried to adjust O₂, in air; the analyzer refused.",
    ]


def test_the_maker_is_named_once(record, sample):
    assert item_name(record) == "Orrin 5"
    given = sample.record_json()
    given["analyzer"]["model"] = "Five"
    assert item_name(sample.record_of(given)) == "Orrin Five"
