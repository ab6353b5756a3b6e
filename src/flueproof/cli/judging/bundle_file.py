"""The input bundle of a judgement from a file: checked key by key, and against its own hash where it carries one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from flueproof.cli.words.faults import Refusal
from flueproof.cli.words.files import bytes_of

_KEYS = ("response", "repeatability", "share_in_limits")
LARGEST_BYTES = 20 * 1024 * 1024


def read_bundle_file(path: Path) -> dict[str, Any]:
    """Return the JSON object of a bundle file; a judgement holds one under `bundle`.

    Raises: Refusal, OSError.
    """
    data = bytes_of(path, LARGEST_BYTES, "a bundle")
    try:
        value = json.loads(data.decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise Refusal(
            "--bundle", f"{path.name} is not JSON: {error}.", "Give a bundle as a judgement holds it."
        ) from None
    if isinstance(value, dict) and value.get("format") == "flueproof-judgement/1":
        value = value.get("bundle")
    if not isinstance(value, dict):
        raise Refusal("--bundle", f"{path.name} holds no object.", "Give a bundle as a judgement holds it.")
    return value


def bundle_of(data: dict[str, Any]) -> Any:
    """Return the Bundle of a bundle file's object.

    Raises: Refusal that names the key.
    """
    from flueproof.bench.bundle import bundle_from_dict

    for key in data:
        if key not in (*_KEYS, "sha256"):
            raise Refusal(f"$.{key}", "no key of a bundle.", f"A bundle has {', '.join(_KEYS)}.")
    for key in _KEYS:
        if key not in data:
            raise Refusal(f"$.{key}", "the key is missing in the bundle.", f"A bundle has {', '.join(_KEYS)}.")
    try:
        bundle = bundle_from_dict(data)
    except (KeyError, ValueError, TypeError, AttributeError, IndexError) as error:
        raise Refusal("$", f"the bundle cannot be read: {error}.", "Give a bundle as a judgement holds it.") from None
    share = bundle.share_in_limits
    if share is not None and not (isinstance(share, int | float) and 0.0 < share < 1.0):
        raise Refusal(
            "$.share_in_limits", f"is {share!r}, allowed is a share above 0 and below 1, or null.", "Correct it."
        )
    if data.get("sha256") not in {None, bundle.sha256()}:
        raise Refusal(
            "$.sha256", "the bundle was changed: its hash is another.", "Use the frozen bundle, or drop sha256."
        )
    return bundle
