"""The examples of a page of the handbook: its HTTP requests, each with the answer shown, and its Python."""

import json
import re
from pathlib import Path

GUIDE = Path(__file__).resolve().parents[3] / "docs" / "guide"


def text_of(name):
    return (GUIDE / name).read_text(encoding="utf-8")


def exchanges(name):
    """Return (method, path, headers, body or None, answer shown) of each request that an answer follows."""
    blocks = re.findall(r"(?ms)^```http\n(.*?)^```\n\n```json\n(.*?)^```", text_of(name))
    return [(*_request(asked), json.loads(answered)) for asked, answered in blocks]


def _request(asked):
    head, _, body = asked.partition("\n\n")
    first, *lines = head.splitlines()
    method, path, _ = first.split()
    headers = dict(line.split(": ", 1) for line in lines)
    return method, path, headers, json.loads(body) if body.strip() else None


def python_of(name):
    """Return the names that the Python blocks of a page define, each block run in turn."""
    names = {}
    for block in re.findall(r"(?ms)^```python\n(.*?)^```", text_of(name)):
        exec(compile(block, name, "exec"), names)  # noqa: S102 -- our own handbook
    return names


def holds(shown, real):
    """Return whether everything that is shown stands in what was answered, at the same place."""
    if isinstance(shown, dict):
        return isinstance(real, dict) and all(key in real and holds(value, real[key]) for key, value in shown.items())
    if isinstance(shown, list):
        return len(shown) == len(real) and all(holds(*pair) for pair in zip(shown, real, strict=True))
    return shown == real
