"""A profile by the name of a shipped one or by its file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from flueproof.cli.words.faults import Refusal

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile


def profile_named(given: str) -> Profile:
    """Return the shipped profile of that name, otherwise the profile in the file of that name.

    Raises: ProfileError, naming the key; Refusal when there is neither.
    """
    from flueproof.analyzer.profile_reader import read_profile, shipped_profile, shipped_profile_names

    if given in shipped_profile_names():
        return shipped_profile(given)
    path = Path(given)
    if not path.is_file():
        raise Refusal(
            "--profile",
            f"{given!r} is neither a file nor a shipped profile.",
            f"Give a file or one of: {', '.join(shipped_profile_names())}.",
        )
    return read_profile(path)
