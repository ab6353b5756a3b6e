"""Set a document: our own templates from data files, everything else as data, never as source."""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any, Final, Literal

from flueproof.papers.errors import TypesettingError
from flueproof.papers.printable import plain_letters, printable_tree

Standard = Literal["a-2a", "a-3a"]
ARCHIVE: Final = "a-2a"
_ONE_AT_A_TIME: Final = threading.Lock()
_set_in: dict[str, int] = {}  # the process that set the first paper


def typeset(template: str, content: Mapping[str, Any], *, standard: Standard | None = ARCHIVE) -> bytes:
    """Return the PDF of one of our templates (file name in data/) filled with plain data.

    Text reaches the type setter as JSON only, so it can never become markup; no system font, no network package.
    Where the type setter cannot set a sign in spite of the table of printable ones, the document is set once more
    with hollow squares in its place.
    Raises: TypesettingError.
    Source: tagged archive form ISO 19005-2, level A, as asserted by the type setter itself.
    """
    how = {"pdf_standards": [standard] if standard else []}
    made = _set(template, content, how)
    if not isinstance(made, bytes):
        raise TypesettingError(f"{template}: the type setter returned {type(made).__name__}, not one PDF")
    return made


def typeset_pictures(template: str, content: Mapping[str, Any], *, dots_per_inch: float = 120.0) -> tuple[bytes, ...]:
    """Return the same pages as pictures (PNG, one a page), for a screen on which the paper is looked at first.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    made = _set(template, content, {"format": "png", "ppi": dots_per_inch})
    return tuple(made) if isinstance(made, list) else (made,)


def _set(template: str, content: Mapping[str, Any], how: Mapping[str, Any]) -> Any:
    data = printable_tree(dict(content))
    try:
        return _compile(template, data, how)
    except TypesettingError as first:
        try:
            return _compile(template, plain_letters(data), how)
        except TypesettingError:
            raise first from None


def _compile(template: str, data: Any, how: Mapping[str, Any]) -> Any:
    import typst  # noqa: PLC0415 - 34 MB of binary, loaded when a paper is really made

    if _set_in.setdefault("process", os.getpid()) != os.getpid():
        raise TypesettingError(
            f"{template} cannot be set: this process was forked from one that had set papers, and the type setter's "
            "threads stayed there. Start the program anew"
        )
    inputs = {"data": json.dumps(data, ensure_ascii=False, allow_nan=False)}
    try:
        with _ONE_AT_A_TIME:
            return typst.compile(
                _source(template),
                font_paths=_faces(),
                ignore_system_fonts=True,
                sys_inputs=inputs,
                **how,
            )
    except BaseException as trouble:
        # a panic of the type setter arrives as a BaseException of its own; everything else that is one must pass
        if isinstance(trouble, (KeyboardInterrupt, SystemExit, GeneratorExit)):
            raise
        raise TypesettingError(f"{template} could not be set: {trouble}") from trouble


@cache
def _source(template: str) -> bytes:
    folder = resources.files("flueproof.papers").joinpath("data")
    common = folder.joinpath("common.typ").read_bytes()
    return common + b"\n" + folder.joinpath(template).read_bytes()


@cache
def _faces() -> Any:
    import font_source_sans_pro  # noqa: PLC0415 - only where a paper is made
    import typst  # noqa: PLC0415

    return typst.Fonts(font_paths=[font_source_sans_pro.font_directory], include_system_fonts=False)
