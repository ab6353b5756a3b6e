"""Every published value that the repository carries is compared with something."""

import json
import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent
TEXTS = "\n".join(
    path.read_text("utf-8") for path in sorted(HERE.parent.rglob("test_*.py")) if path.name != Path(__file__).name
)
NAMED = set(re.findall(r"[\"']([A-Za-z0-9.=\-]{4,})[\"'{]", TEXTS))


def entries():
    for path in (HERE / "data" / "metrology.json", *sorted((HERE / "data").glob("flue_gas*.json"))):
        yield from json.loads(path.read_text("utf-8"))


def is_named(identifier):
    """By its whole name, or by a beginning that ends at a dash or an equals sign (`tck-emf-` names a family)."""
    beginnings = {identifier} | {identifier[: place + 1] for place, sign in enumerate(identifier) if sign in "-="}
    return bool((beginnings | {one.rstrip("-") for one in beginnings}) & NAMED)


@pytest.mark.parametrize("identifier", [entry["id"] for entry in entries()])
def test_a_published_value_is_compared(identifier):
    assert is_named(identifier), f"{identifier}: carry it only if a test uses it"


def test_every_entry_names_its_publication_and_provenance():
    for entry in entries():
        source = entry["source"]
        assert source["publication"] if isinstance(source, dict) else source, entry["id"]
        assert entry["provenance"], entry["id"]
