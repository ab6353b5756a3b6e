"""Numbers of a trace file: decimal point or comma, signs that group thousands."""

from __future__ import annotations

import re
from collections.abc import Iterable

PLAIN = {
    ".": re.compile(r"^[+-]?([0-9]+|[0-9]{1,3}(,[0-9]{3})+)?(\.[0-9]*)?([eE][+-]?[0-9]+)?$"),
    ",": re.compile(r"^[+-]?([0-9]+|[0-9]{1,3}([.'  ][0-9]{3})+)?(,[0-9]*)?([eE][+-]?[0-9]+)?$"),
}
GROUPING = {".": ",", ",": ".'  "}


def number_of(text: str, decimal: str) -> float | None:
    """Return the number of a cell [unit of the column], None when it is none.

    text: stripped; decimal: "." or ",". A minus sign of typesetters is understood.
    Source: own rule.
    """
    tight = text.replace("−", "-")
    digits = tight.lower().partition("e")[0]
    if not any(sign.isdigit() for sign in digits) or not PLAIN[decimal].match(tight):
        return None
    for sign in GROUPING[decimal]:
        tight = tight.replace(sign, "")
    return float(tight.replace(",", "."))


def decimal_of(cells: Iterable[str], delimiter: str) -> str:
    """Return the decimal sign of a file, "." or ",".

    cells: some of the file; delimiter: a file cut by commas has a decimal point unless its cells hold commas [-].
    Source: own rule: the sign that stands last before a run of digits; comma when only commas occur.
    """
    points = commas = 0
    for cell in cells:
        if re.fullmatch(r"[+-]?[0-9.,']+", cell):
            points += "." in cell and cell.rfind(".") > cell.rfind(",")
            commas += "," in cell and cell.rfind(",") > cell.rfind(".")
    if delimiter == "," and not commas:
        return "."
    return "," if commas > points else "."
