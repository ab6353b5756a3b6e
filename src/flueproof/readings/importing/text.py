"""From the bytes of a trace file to rows of cells."""

from __future__ import annotations

import codecs
import csv
import io
from dataclasses import dataclass

from flueproof.readings.errors import TraceFileError

LARGEST_BYTES = 20_000_000
MOST_ROWS = 200_000
DELIMITERS = (";", "\t", "|", ",")
LOOKED_AT = 40
BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a file: its line number, 1 for the first, and its cells, stripped."""

    number: int
    cells: tuple[str, ...]


def decoded(data: bytes, encoding: str | None = None) -> str:
    """Return the text of a trace file.

    data: the file's bytes; encoding: its name, None: told by the byte-order mark, else UTF-16 by its zero bytes, else
    UTF-8, else Latin-1.
    Raises: TraceFileError for an empty, huge or binary file, or one that is not in the given encoding.
    Source: byte-order marks: Unicode standard, 23.8 (from memory); order of trial: own rule.
    """
    if not data.strip(b"\x00\xff\xfe\xef\xbb\xbf \t\r\n"):
        raise TraceFileError("the file is empty.", "Export the trace again and give a file with readings.")
    if len(data) > LARGEST_BYTES:
        raise TraceFileError(
            f"the file has {len(data):,} bytes; at most {LARGEST_BYTES:,} are read.",
            "Cut it to the applications of gas that are to be settled.",
        )
    name = encoding or _encoding_of(data)
    try:
        text = data.decode(name)
    except (UnicodeDecodeError, LookupError) as error:
        raise TraceFileError(f"the file is not text in {name} ({error}).", "Save it as CSV in UTF-8.") from None
    if any(ord(sign) < 32 and sign not in "\t\r\n\x0b\x0c" for sign in text):
        raise TraceFileError("the file holds control characters: it is not a text file.", "Save it as CSV in UTF-8.")
    return text


def _encoding_of(data: bytes) -> str:
    for mark, name in BYTE_ORDER_MARKS:
        if data.startswith(mark):
            return name
    head = data[:2000]
    if head[1::2].count(0) > len(head) // 4:
        return "utf-16-le"
    if head[0::2].count(0) > len(head) // 4:
        return "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "latin-1"
    return "utf-8"


def delimiter_of(text: str) -> str:
    """Return the delimiter of a trace file: the one that cuts most lines into the same number of cells.

    text: of the file; a first line `sep=;` as spreadsheets write it decides. Spaces are tried last.
    Raises: TraceFileError when no line can be cut.
    Source: own rule; a comma loses to the others because it may be the decimal sign.
    """
    lines = [line for line in text.splitlines() if line.strip()][:LOOKED_AT]
    if lines and lines[0].lower().startswith("sep=") and len(lines[0]) >= 5:
        return lines[0][4]
    best, most = "", 0
    for delimiter in DELIMITERS:
        counts = [line.count(delimiter) for line in lines if line.count(delimiter)]
        agreeing = max((counts.count(count) for count in set(counts)), default=0)
        if agreeing > max(most, 0) and (not best or agreeing > 1.2 * most):
            best, most = delimiter, agreeing
    if best and most >= max(1, len(lines) // 3):
        return best
    if sum(len(line.split()) > 1 for line in lines) > len(lines) // 2:
        return " "
    raise TraceFileError(
        "no delimiter was found: no line has a time and a value.",
        "Give two columns or more, cut by comma, semicolon, tab, bar or space, or name the delimiter.",
    )


def rows_of(text: str, delimiter: str) -> list[Row]:
    """Return the rows of a trace file, empty lines and lines that begin with # left out.

    text: of the file; delimiter: one character, a space stands for any run of spaces.
    Raises: TraceFileError for too many rows or a quote that is not closed.
    Source: RFC 4180 for quotes (from memory).
    """
    if len(delimiter) != 1:
        raise TraceFileError(f"delimiter {delimiter!r} is not one character.", "Give one, such as ; or a tab.")
    rows: list[Row] = []
    if delimiter == " ":
        cut = ((number, line.split()) for number, line in enumerate(text.splitlines(), start=1))
    else:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
        cut = ((reader.line_num, cells) for cells in reader)
    try:
        for number, cells in cut:
            stripped = tuple(cell.strip() for cell in cells)
            first = stripped[0] if stripped else ""
            if not any(stripped) or first.startswith("#") or (number == 1 and first.lower().startswith("sep=")):
                continue
            rows.append(Row(number, stripped))
            if len(rows) > MOST_ROWS:
                raise TraceFileError(
                    f"the file has more than {MOST_ROWS:,} rows.", "Cut it to the applications that are to be settled."
                )
    except csv.Error as error:
        raise TraceFileError(
            f"the row cannot be cut into cells ({error}).", "Close the quotation mark.", row=len(rows) + 1
        ) from None
    return rows
