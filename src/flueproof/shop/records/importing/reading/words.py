"""The table of texts of a workbook: cells name its entries by number."""

from __future__ import annotations

import re
from typing import IO, Final
from xml.parsers import expat

_BLOCK: Final = 1 << 18  # [bytes]
_ESCAPED: Final = re.compile(r"_x([0-9A-Fa-f]{4})_")


class DocumentTypeError(ValueError):
    """A part of a workbook with a document type: no spreadsheet writes one, and entities hide in them."""


def parser_without_entities() -> expat.XMLParserType:
    """Return an XML parser that refuses a document type, and with it all entities but those of XML itself."""

    def refuse(*_: object) -> None:
        raise DocumentTypeError("a document type in a part of a workbook")

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = refuse
    return parser


def plain(text: str) -> str:
    """Return a text with its escapes undone: `_x000D_` is the sign 000D.

    Source: ECMA-376, 22.9.2.19 (ST_Xstring), from memory.
    """
    return _ESCAPED.sub(_sign, text) if "_x" in text else text


def _sign(found: re.Match[str]) -> str:
    sign = chr(int(found[1], 16))
    return "\ufffd" if "\ud800" <= sign <= "\udfff" else sign  # half a sign cannot be kept


def read_words(part: IO[bytes]) -> list[str]:
    """Return all texts, in order; parts of one text with different looks are put together.

    Raises: DocumentTypeError, ExpatError.
    """
    words: list[str] = []
    pieces: list[str] = []
    parser, taking, spoken = parser_without_entities(), False, False

    def start(name: str, _: dict[str, str]) -> None:
        nonlocal taking, spoken
        if name.endswith(" t"):
            taking = not spoken
        elif name.endswith(" rPh"):
            spoken = True  # how a word is spoken, no part of the text

    def end(name: str) -> None:
        nonlocal taking, spoken
        if name.endswith(" t"):
            taking = False
        elif name.endswith(" rPh"):
            spoken = False
        elif name.endswith(" si"):
            words.append(plain("".join(pieces)))
            pieces.clear()

    def text(some: str) -> None:
        if taking:
            pieces.append(some)

    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, end, text
    while block := part.read(_BLOCK):
        parser.Parse(block, False)
    parser.Parse(b"", True)
    return words
