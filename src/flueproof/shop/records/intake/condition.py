"""What is in the box and how it looks: photos, enclosed against the slip, what the owner is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final, Protocol

from django.db import transaction

from flueproof.shop.records.intake.arrivals import save_by
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.keeping.photos import LARGEST_FILE, PhotoError, keep_photo
from flueproof.shop.records.models import Arrival, BoxPhoto, Job, OwnerQuestion, Person

MOST_PHOTOS: Final = 12
"""As many as are taken at once; a second look can bring more."""
LOOKED_AT: Final = "box looked at"
_MISSING: Final = "missing-part"


class PhotoFile(Protocol):
    """A file as a form brings it."""

    @property
    def name(self) -> str | None:
        """Return the file's name."""

    @property
    def size(self) -> int | None:
        """Return how many bytes it has."""

    def read(self) -> bytes:
        """Return its content."""


@dataclass(frozen=True, slots=True)
class PhotosKept:
    """What became of some photos; refused: file name and the reason, in words."""

    kept: tuple[BoxPhoto, ...]
    refused: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Found:
    """What was found in the box; seen: accidents that the counter sees (dropped, wet, frozen)."""

    enclosed: Sequence[str]
    condition: str
    seen: Sequence[str] = field(default_factory=tuple)
    carrier: str = ""


def keep_photos(
    arrival: Arrival | None, job: Job | None, files: Iterable[PhotoFile], words: str, by: Person, now: datetime
) -> PhotosKept:
    """Keep each photo small and without EXIF; one that is none, or too large, is refused and the others are kept.

    The same photo twice with one box is one.
    """
    kept: list[BoxPhoto] = []
    refused: list[tuple[str, str]] = []
    for number, file in enumerate(files):
        name = (file.name or "photo")[:80]
        if number >= MOST_PHOTOS:
            refused.append((name, f"More than {MOST_PHOTOS} at once; send the others after these."))
        elif (file.size or 0) > LARGEST_FILE:
            refused.append((name, f"The photo has {(file.size or 0) / 2**20:.0f} MB; take one of at most 30 MB."))
        else:
            try:
                kept.append(_kept(arrival, job, file.read(), words.strip()[:200], by, now))
            except PhotoError as error:
                refused.append((name, str(error)))
    return PhotosKept(tuple(kept), tuple(refused))


def note_found(arrival: Arrival, found: Found, by: Person, now: datetime) -> Job:
    """Write what was in the box to its job, and let the clock know whether the paperwork is complete.

    The first look has a moment, and each later one that changed something; after the first one the owner is told that
    the box is here.
    """
    from flueproof.shop.records.mailing.writing import write_letter  # noqa: PLC0415 -- letters read our boxes
    from flueproof.shop.records.promises.paperwork import check_paperwork  # noqa: PLC0415 -- it reads our questions

    with transaction.atomic():
        job: Job = Job.objects.select_for_update().get(pk=arrival.job_id)
        first = not job.moments.filter(what=LOOKED_AT).exists()
        wanted = {
            "enclosed": list(dict.fromkeys(part.strip() for part in found.enclosed if part.strip())),
            "condition": found.condition.strip(),
            "accidents": list(dict.fromkeys([*job.accidents, *found.seen])),
        }
        if first or any(getattr(job, name) != value for name, value in wanted.items()):
            for name, value in wanted.items():
                setattr(job, name, value)
            save_by(job, by)
            note_moment(job, LOOKED_AT, by, now, text=_looked_at(job))
        if found.carrier.strip() != arrival.carrier:
            arrival.carrier = found.carrier.strip()
            save_by(arrival, by)
        check_paperwork(job, by, now)
        if first:
            write_letter("box-arrived", job=job, by=by, now=now)
    return job


def not_in_the_box(job: Job) -> list[str]:
    """Return what the slip announced and the box did not hold, in the slip's order."""
    came = {str(part).casefold() for part in job.enclosed}
    return [part for part in job.enclosed_announced if str(part).casefold() not in came]


def not_asked_yet(job: Job) -> list[str]:
    """Return what is missing and nobody asked the owner for."""
    asked = job.questions.filter(kind=_MISSING).exclude(state="withdrawn").values_list("subject", flat=True)
    known = {subject.casefold() for subject in asked}
    return [part for part in not_in_the_box(job) if part.casefold() not in known]


def ask_for(job: Job, parts: Sequence[str], by: Person, now: datetime) -> list[OwnerQuestion]:
    """Ask the owner for each part that is missing, by e-mail with one link; what was asked for is not again."""
    from flueproof.shop.records.mailing.questions import ask  # noqa: PLC0415 -- letters are heavy, asking is rare
    from flueproof.shop.records.promises.paperwork import check_paperwork  # noqa: PLC0415

    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        open_ones = [part for part in not_asked_yet(job) if part in parts]
        asked = [ask(job, _MISSING, part, _question(part), list(ANSWERS), True, by, now) for part in open_ones]
        if asked:
            check_paperwork(job, by, now)
    return asked


ANSWERS: Final = ("I send it", "Go on without it", "It was in the box: please look again")


def _question(part: str) -> str:
    return f"The box slip says that it holds: {part}. We did not find it in the box. What shall we do?"


def _kept(arrival: Arrival | None, job: Job | None, content: bytes, words: str, by: Person, now: datetime) -> BoxPhoto:
    blob = keep_photo(content, now)
    standing: BoxPhoto | None = BoxPhoto.objects.filter(arrival=arrival, job=job, blob=blob).first()
    when: dict[str, Any] = {"when": "arrival"}
    return standing or BoxPhoto.objects.create(arrival=arrival, job=job, blob=blob, at=now, by=by, words=words, **when)


def _looked_at(job: Job) -> str:
    missing = not_in_the_box(job)
    parts = [f"in it: {', '.join(job.enclosed)}" if job.enclosed else "nothing but the analyzer"]
    if missing:
        parts.append(f"missing: {', '.join(missing)}")
    return "; ".join([*parts, job.condition])
