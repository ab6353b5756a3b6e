"""Boxes of the demo: two that nobody knows yet, one that waits for its hose; photos are drawn, all of it invented."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import dataclass
from typing import Final

from PIL import Image, ImageDraw

from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.intake.calls import note_call
from flueproof.shop.records.intake.condition import Found, ask_for, keep_photos, note_found
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import Job

_ANNOUNCED: Final = ("probe", "hose", "trap", "air sensor", "charger")
_STRANGER: Final = {"serial": "??-4471*", "name": "Quillfeather Furnace (invented)", "town": "Harrow Ferry"}


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawn photo, as a form would bring it."""

    name: str
    content: bytes

    @property
    def size(self) -> int:
        """Return how many bytes it has."""
        return len(self.content)

    def read(self) -> bytes:
        """Return the JPEG."""
        return self.content


def fill_boxes(scene: Scene) -> None:
    """Put boxes on the counter: one with a plate that is worn, one of a stranger, one without the hose it announced."""
    awaited = list(Job.objects.filter(state="requested", analyzer__whereabouts="").order_by("id")[:2])
    by, now = scene.people["marsh"], scene.now
    if awaited:
        _without_hose(scene, awaited[0], now - dt.timedelta(hours=3))
    if len(awaited) > 1:
        job = awaited[1]
        person = job.owner.contacts.order_by("id").first()
        yesterday = now - dt.timedelta(days=1)
        note_call(
            by, yesterday, caller=person.name if person else str(job.owner), owner=job.owner, said="It is mailed."
        )
        home = job.owner.addresses.order_by("id").first()
        clues = {"serial": _worn(job.analyzer.serial), "model": job.analyzer.model, "name": str(job.owner).split()[0]}
        enter_box(by, now - dt.timedelta(hours=2), clues=clues | ({"town": home.town} if home else {}))
    enter_box(by, now - dt.timedelta(hours=1), clues=_STRANGER)


def _without_hose(scene: Scene, job: Job, at: dt.datetime) -> None:
    by = scene.people["marsh"]
    job.enclosed_announced = list(_ANNOUNCED)
    job._history_user = by  # type: ignore[attr-defined] # noqa: SLF001 -- the documented way of simple_history
    job.save()
    note_moment(job, "note", by, at - dt.timedelta(days=2), text="They send probe, hose, trap, air sensor and charger.")
    arrival = take_job(enter_box(by, at, slip=job.number), job, by, at).arrival
    keep_photos(arrival, job, [_closed_box(arrival.box), _open_box()], "", by, at)
    came = [part for part in _ANNOUNCED if part != "hose"]
    found = note_found(arrival, Found(came, "dry, sooty at the tip, box crushed at one corner"), by, at)
    ask_for(found, ["hose"], by, at + dt.timedelta(minutes=4))


def _worn(serial: str) -> str:
    """Return a serial of which the last character but two cannot be read."""
    return serial[:-3] + "?" + serial[-2:] if len(serial) > 4 else serial


def _closed_box(number: str) -> Drawn:
    picture = Image.new("RGB", (1200, 900), "#8d857a")
    draw = ImageDraw.Draw(picture)
    draw.polygon([(180, 330), (620, 230), (1040, 320), (1010, 720), (600, 840), (210, 720)], fill="#b98f5a")
    draw.polygon([(180, 330), (620, 230), (1040, 320), (600, 430)], fill="#c9a26d")
    draw.line([(600, 430), (600, 840)], fill="#8f6c3f", width=6)
    draw.polygon([(960, 330), (1040, 320), (1015, 430)], fill="#7e5f38")
    draw.rectangle((260, 480, 540, 640), fill="#f4efe4")
    draw.text((285, 505), f"{number}\n(invented)", fill="#22201c", font_size=40)
    return _as_jpeg("closed box", picture)


def _open_box() -> Drawn:
    picture = Image.new("RGB", (1200, 900), "#8d857a")
    draw = ImageDraw.Draw(picture)
    draw.rectangle((140, 160, 1060, 780), fill="#a77f4d")
    draw.rectangle((190, 210, 1010, 730), fill="#5f4a2f")
    draw.rounded_rectangle((260, 280, 480, 660), 30, fill="#2c3238")
    draw.rectangle((290, 320, 450, 430), fill="#a9b89b")
    draw.line([(560, 640), (940, 300)], fill="#c9ccce", width=16)
    draw.rounded_rectangle((540, 600, 640, 700), 18, fill="#20242a")
    draw.ellipse((720, 540, 820, 640), fill="#d6d2c4")
    draw.text((690, 660), "trap", fill="#f4efe4", font_size=34)
    return _as_jpeg("open box", picture)


def _as_jpeg(name: str, picture: Image.Image) -> Drawn:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return Drawn(f"{name}.jpg", out.getvalue())
