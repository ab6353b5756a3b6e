"""What the person asked of `flueproof judge`, as plain values that travel to other processes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

BLANK_TO_SIGN = "_" * 24
"""Stands where the signer's name would: a line to write it on by hand."""


@dataclass(frozen=True, slots=True)
class IssueSetting:
    """What the papers need beside the judgement; the number is prefix and job."""

    issued_on: date
    number_prefix: str = ""
    signer: str = BLANK_TO_SIGN
    accredited_claim: str | None = None
    paper: str = "letter"


@dataclass(frozen=True, slots=True)
class Setting:
    """How records are to be judged and what is to be made of each.

    rule, r: decision rule instead of the order's; profiles: (name of the file, its bytes) of the profiles given, then
    the only ones used; bundle: frozen further inputs, plain JSON; show: "json", "full" or "line"; all_signs: whether
    the output carries Unicode; out: folder for the papers; overwrite: replace the folder of an earlier run.
    """

    rule: str | None = None
    r: float | None = None
    profiles: tuple[tuple[str, bytes], ...] = ()
    bundle: dict[str, Any] | None = None
    units: str = "us"
    show: str = "json"
    all_signs: bool = True
    width: int = 88
    out: str | None = None
    overwrite: bool = False
    issue: IssueSetting | None = None
