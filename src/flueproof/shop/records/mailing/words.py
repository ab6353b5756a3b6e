"""The words of a letter: placeholders are looked at when a template is saved and filled in when a letter is written."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Final

LONGEST_SUBJECT: Final = 200
LONGEST_TEXT: Final = 10_000
_LONGEST_VALUE: Final = 4_000
_HOLE: Final = re.compile(r"\{([a-z_]+)\}")
_ANY_BRACE: Final = re.compile(r"\{[^{}\n]{0,40}\}?|\}")


def wrong_with(subject: str, text: str, known: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return what is wrong with the words of a template as (field, sentence), field "subject" or "text"."""
    found = [
        (field, words) for field, words in (("subject", subject), ("text", text)) for words in _holes(words, known)
    ]
    if not subject.strip():
        found.append(("subject", "An e-mail needs a subject."))
    if any(unicodedata.category(sign) in {"Cc", "Zl", "Zp"} for sign in subject):
        found.append(("subject", "A subject is one line; take the line break out."))
    if len(subject) > LONGEST_SUBJECT:
        found.append(("subject", f"The subject has {len(subject)} signs; {LONGEST_SUBJECT} are the most."))
    if not text.strip():
        found.append(("text", "An e-mail needs some words."))
    if len(text) > LONGEST_TEXT:
        found.append(("text", f"The text has {len(text):,} signs; {LONGEST_TEXT:,} are the most."))
    return found


def filled_subject(template: str, values: Mapping[str, str]) -> str:
    """Return a subject: one line without control signs, at most 200 signs long."""
    return one_line(_HOLE.sub(lambda hole: values.get(hole[1], ""), template))[:LONGEST_SUBJECT]


def filled_text(template: str, values: Mapping[str, str]) -> str:
    """Return a text; a line whose placeholders are all empty is left out, so that nothing says "Promised: ".

    A line before it that ends with ":" goes with it: it was the heading of what is not there.
    """
    lines: list[str] = []
    for line in template.replace("\r\n", "\n").split("\n"):
        holes = _HOLE.findall(line)
        if holes and not any(values.get(hole, "").strip() for hole in holes):
            if lines and lines[-1].endswith(":"):
                lines.pop()
            continue
        filled = _HOLE.sub(lambda hole: values.get(hole[1], ""), line).rstrip()
        if filled or (lines and lines[-1]):
            lines.append(filled)
    return "\n".join(lines).strip() + "\n"


def one_line(text: str) -> str:
    """Return a text on one line, without control signs: what goes into a header."""
    plain = "".join(" " if unicodedata.category(sign)[0] in "CZ" else sign for sign in text)
    return " ".join(plain.split())


def some_lines(text: str) -> str:
    """Return a text of several lines without control signs, cut at 4,000 signs with a word that says so."""
    kept = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = "".join(sign for sign in kept if sign == "\n" or unicodedata.category(sign)[0] != "C").strip()
    return kept if len(kept) <= _LONGEST_VALUE else f"{kept[:_LONGEST_VALUE].rstrip()} … (cut; call us for the rest)"


def _holes(words: str, known: Mapping[str, str]) -> list[str]:
    """Return a sentence for each thing in braces that is no placeholder of this kind."""
    wrong = []
    for found in dict.fromkeys(_ANY_BRACE.findall(words)):
        whole = _HOLE.fullmatch(found)
        if whole is None:
            wrong.append(f"“{found}” is no placeholder: write a name in braces, such as {{{next(iter(known))}}}.")
        elif whole[1] not in known:
            allowed = ", ".join(f"{{{name}}}" for name in known)
            wrong.append(f"{found} is not known in this e-mail. Known are: {allowed}.")
    return wrong
