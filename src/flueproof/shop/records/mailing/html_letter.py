"""The HTML part of a letter, made from its plain text: everything escaped, one style sheet, no picture, nothing loaded.

Paragraphs stand between empty lines, "- " begins a point of a list, and a line "Words: address" with the letter's own
link becomes a button. Nothing else becomes a link, so that no words of others send anybody anywhere.
"""

from __future__ import annotations

import base64
import hashlib
import re
from html import escape
from importlib import resources
from typing import Final

STYLE: Final = resources.files("flueproof.shop.records.mailing").joinpath("shipped/letter.css").read_text("utf-8")
_STYLE_OF: Final = re.compile(r"<style>(.*?)</style>", re.DOTALL)


def html_of(subject: str, text: str, shop: str, link: str = "") -> str:
    """Return a whole HTML page for a letter.

    text: the plain text as it goes out; shop: name above the letter; link: the address in the text that is a link.
    """
    blocks = [block for block in text.strip().split("\n\n") if block.strip()]
    body = "\n".join(_block(block, link, last=place == len(blocks) - 1) for place, block in enumerate(blocks))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{escape(subject)}</title><style>{STYLE}</style></head>\n"
        f'<body><div class="letter"><p class="from">{escape(shop)}</p>\n{body}\n</div></body></html>\n'
    )


def style_hash(html: str) -> str:
    """Return the source of a content security policy that lets the one style sheet of a letter in, and no other."""
    found = _STYLE_OF.search(html)
    digest = hashlib.sha256((found[1] if found else "").encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


def _block(block: str, link: str, *, last: bool) -> str:
    """Return the HTML of what stands between two empty lines: paragraphs, lists and buttons in turn."""
    parts: list[str] = []
    words: list[str] = []
    points: list[str] = []
    for line in block.split("\n"):
        button = _button(line, link)
        if button or line.startswith("- "):
            _close(parts, words, "p", last=last)
        if button or not line.startswith("- "):
            _close(parts, points, "ul")
        if button:
            parts.append(button)
        elif line.startswith("- "):
            points.append(f"<li>{escape(line[2:])}</li>")
        else:
            words.append(_words(line, link))
    _close(parts, words, "p", last=last)
    _close(parts, points, "ul")
    return "\n".join(parts)


def _close(parts: list[str], lines: list[str], kind: str, *, last: bool = False) -> None:
    """Put the lines gathered so far into the page, and begin anew."""
    if not lines:
        return
    if kind == "ul":
        parts.append(f"<ul>{''.join(lines)}</ul>")
    else:
        parts.append(f"<p{' class=' + chr(34) + 'last' + chr(34) if last else ''}>{'<br>'.join(lines)}</p>")
    lines.clear()


def _button(line: str, link: str) -> str:
    """Return a button with the address below it, for those whose program shows no button; "" for other lines."""
    if not link or not line.endswith(f": {link}"):
        return ""
    words, address = escape(line[: -len(link) - 2]), escape(link)
    return (
        f'<p class="act"><a href="{address}">{words}</a></p>'
        f'<p class="plain">Or copy this address: <a href="{address}">{address}</a></p>'
    )


def _words(line: str, link: str) -> str:
    plain = escape(line)
    return plain.replace(escape(link), f'<a href="{escape(link)}">{escape(link)}</a>') if link else plain
