"""The page of the handbook on finding: what its table says is found."""

import re
from pathlib import Path

import pytest

from flueproof.shop.records.finding.comparing import PLATE
from flueproof.shop.records.finding.searching import LONGEST_TEXT, MOST_TERMS, search

from .test_searching import cylinder, names, paper  # noqa: F401 -- fixtures

TEXT = (Path(__file__).resolve().parents[4] / "docs/guide/finding.md").read_text(encoding="utf-8")
ROWS = re.findall(r"(?m)^\| `([^`]+)` \| ([^|]+) \| ([^|]+) \|$", TEXT)
KINDS = {"an owner": "owner", "a person": "contact", "an analyzer": "analyzer", "a job": "job",
         "a certificate": "paper", "a cylinder": "reference"}  # fmt: skip


@pytest.mark.parametrize(("typed", "finds", "which"), ROWS)
def test_what_the_table_names_is_found(cylinder, paper, typed, finds, which):  # noqa: F811 -- fixtures
    found = [(kind, name) for kind, name in names(search(typed)) if which in name]
    assert found
    kind = KINDS.get(re.split(r",", finds)[0])
    assert kind is None or kind in {name for name, _ in found}


def test_the_table_shows_every_kind():
    assert set(KINDS) <= {finds.split(",")[0] for _, finds, _ in ROWS}


def test_the_lookalikes_of_the_page_are_those_of_the_program():
    told = re.search(r"In serials and scan codes (.*?) count as alike; so do (.*)\.", TEXT)
    groups = [re.findall(r"\b[A-Z0-9]\b", part) for part in (told[1] + ";" + told[2]).split(";")]
    assert [len(group) for group in groups] == [3, 3, 2, 2, 2]
    for group in groups:
        assert len({PLATE.term(f"{sign}77")[0] for sign in group}) == 1
    assert len({PLATE.term(f"{group[0]}77")[0] for group in groups}) == len(groups)


def test_the_limits_of_the_page_are_those_of_the_program():
    assert f"{LONGEST_TEXT} signs" in TEXT
    assert f"At most {['no', 'one', 'two', 'three', 'four', 'five'][MOST_TERMS]} words" in TEXT
    assert "at most twelve of each" in TEXT
    assert search.__defaults__ == (12,)
