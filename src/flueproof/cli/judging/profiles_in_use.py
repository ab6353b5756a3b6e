"""Which profile a record is judged by: the one it names, in the version it names, and no other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.profile import Profile
from flueproof.analyzer.profile_reader import read_profile, shipped_profile, shipped_profile_names
from flueproof.bench.errors import RecordError
from flueproof.bench.record.record import Record

_PLACE = "$.analyzer.profile"


def profiles_given(files: Sequence[tuple[str, bytes]]) -> dict[str, Profile]:
    """Return the profiles of the files given on the command line, by their names.

    files: (name of the file, its bytes).
    Raises: ProfileError, also when two files hold the same name.
    """
    given: dict[str, Profile] = {}
    for where, data in files:
        profile = read_profile(data, where=where)
        if profile.name in given:
            raise ProfileError("name", f"is {profile.name!r} in two files.", "Give each profile once.", where)
        given[profile.name] = profile
    return given


def profile_of(record: Record, given: Mapping[str, Profile]) -> Profile:
    """Return the profile that the record names: one of those given, or a shipped one where none was given.

    Raises: RecordError when there is none of this name, or version or hash are not those that the record names.
    """
    wanted = record.analyzer.profile
    profile = given.get(wanted.name)
    if profile is None and given:
        raise RecordError(
            f"{_PLACE}.name",
            f"the record names the profile {wanted.name!r}; given with --profile: {', '.join(map(repr, given))}.",
            "Give the profile that the record names, or leave --profile out for a shipped one.",
        )
    if profile is None:
        if wanted.name not in shipped_profile_names():
            raise RecordError(
                f"{_PLACE}.name",
                f"no shipped profile is named {wanted.name!r}.",
                f"Give its file with --profile FILE; shipped are: {', '.join(shipped_profile_names())}.",
            )
        profile = shipped_profile(wanted.name)
    _refuse_another_version(record, profile)
    return profile


def _refuse_another_version(record: Record, profile: Profile) -> None:
    wanted = record.analyzer.profile
    if wanted.version != profile.version:
        raise RecordError(
            f"{_PLACE}.version",
            f"the record names version {wanted.version!r} of {profile.name}; the one in use is version "
            f"{profile.version!r}.",
            "Give the file of that version with --profile FILE.",
        )
    if wanted.sha256 is not None and wanted.sha256 != profile.sha256:
        raise RecordError(
            f"{_PLACE}.sha256",
            f"the record names the profile file with hash {wanted.sha256}; the one in use has {profile.sha256}.",
            "Give the very file with --profile FILE; a changed profile needs a new version.",
        )
