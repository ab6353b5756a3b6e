"""E-mails of the demo: as if they had been sent; one came back, one question is open, one was answered. None leaves."""

from __future__ import annotations

import datetime as dt
from typing import Final

from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.mailing.questions import answer, ask
from flueproof.shop.records.mailing.undelivered import bounced
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import Job, Letter, Person

PUBLIC_ADDRESS: Final = "https://bench.example"  # a name that nobody can have (RFC 2606)
_ANSWER: Final = "Yes, clean it"


def fill_letters(scene: Scene) -> None:
    """Write what a counter writes in a week, and let all of it be sent but for one that came back."""
    if not scene.shop.public_address:
        scene.shop.public_address, scene.shop.email = PUBLIC_ADDRESS, "bench@bench.example"
        scene.shop.save()
    counter = scene.people["marsh"]
    for job in _some(2, state="arrived"):
        write_letter("box-arrived", job=job, by=counter, now=scene.now - dt.timedelta(hours=20))
    for job in _some(1, state="to-return"):
        write_letter("ready", job=job, by=counter, now=scene.now - dt.timedelta(hours=5))
    on_bench = _some(2, state="bench")
    if on_bench:
        _answered(scene, on_bench[0], counter)
    if len(on_bench) > 1:
        _lost(scene, on_bench[1], counter)
    for letter in Letter.objects.filter(state="waiting"):
        letter.state, letter.tries, letter.next_try_at = "sent", 1, None
        letter.sent_at = letter.made_at + dt.timedelta(seconds=2)
        letter.save()


def _answered(scene: Scene, job: Job, by: Person) -> None:
    words = "There is soot in the pump. May we open and clean it? It takes half an hour."
    asked_at = scene.now - dt.timedelta(hours=4)
    question = ask(job, "other", "", words, [_ANSWER, "No, send it back as it is"], False, by, asked_at)
    person = job.owner.contacts.order_by("id").first()
    answer(question, _ANSWER, person.name if person else str(job.owner), None, asked_at + dt.timedelta(minutes=35))


def _lost(scene: Scene, job: Job, by: Person) -> None:
    at = scene.now - dt.timedelta(hours=6)
    extra = {
        "subject": f"Your own number on {job.number}",
        "words": "Hello,\n\nwhich number of yours goes on the paper?",
    }
    letter = write_letter("letter", job=job, to="office@moved-away.example", by=by, now=at, extra=extra)
    if letter is not None:
        bounced(letter, "the mail server refused the address: 550 no such mailbox", None, at + dt.timedelta(seconds=4))


def _some(most: int, **where: str) -> list[Job]:
    """Return jobs of owners who can be written to."""
    rows = Job.objects.filter(owner__no_letters=False, **where).exclude(owner__contacts__email="")
    return list(rows.filter(owner__contacts__isnull=False).distinct().order_by("id")[:most])
