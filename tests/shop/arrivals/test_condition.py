"""What is in a box: photos, parts against the slip, what is missing and asked for."""

import io
import struct
import zlib

import pytest
from django.core import mail
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from flueproof.shop.records.models import BoxPhoto, ClockEvent, Job, Letter, OwnerQuestion

from .conftest import photo

HTMX = {"HX-Request": "true"}


def at(box, name="condition"):
    return reverse(f"arrivals:{name}", args=[box.pk])


def note(client, box, **said):
    return client.post(at(box), {"enclosed": ["probe", "trap"], "condition": "dry, sooty", **said})


def test_the_slip_stands_beside_the_check_list_with_drawings_and_cautions(counter_client, known):
    page = counter_client.get(at(known)).content.decode()
    assert page.count("on the slip") >= 3
    assert "<svg" in page
    assert "it is drained before power is on" in page
    assert "Take the box" in page


def test_what_is_in_the_box_is_kept_and_the_owner_hears_that_it_is_here_once(counter_client, known):
    for words in ("dry", "dry, one corner crushed"):
        note(counter_client, known, condition=words, also="spare tip, manual")
    job = Job.objects.get()
    assert job.enclosed == ["probe", "trap", "spare tip", "manual"]
    assert job.condition == "dry, one corner crushed"
    assert job.moments.filter(what="box looked at").count() == 2
    assert Letter.objects.filter(kind="box-arrived").count() == 1
    assert mail.outbox == []


def test_it_needs_a_word_on_how_it_looks_and_keeps_the_ticks(counter_client, known):
    answer = note(counter_client, known, condition="", also="spare tip")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="spare tip"' in page
    assert 'name="enclosed" value="trap" checked' in page
    assert Job.objects.get().enclosed == []


def test_what_was_seen_brings_its_caution(counter_client, known):
    note(counter_client, known, seen=["wet", "frozen"])
    page = counter_client.get(at(known)).content.decode()
    assert "do not charge it" in page
    assert "let it warm up in its closed case" in page
    assert Job.objects.get().accidents == ["wet", "frozen"]


def test_a_missing_hose_is_asked_for_once_and_the_clock_stands(counter_client, known):
    note(counter_client, known)
    page = counter_client.get(at(known)).content.decode()
    assert "<b>Not in the box:</b> hose" in page
    for _ in range(2):
        counter_client.post(at(known, "ask"), {"part": ["hose", "nonsense"]})
    question = OwnerQuestion.objects.get()
    assert (question.subject, question.kind, question.stops) == ("hose", "missing-part", True)
    assert Letter.objects.filter(kind="question").count() == 1
    assert ClockEvent.objects.filter(kind="stopped").exists()
    page = counter_client.get(at(known)).content.decode()
    assert "not answered" in page
    assert "Ask the owner for" not in page


def test_the_paperwork_says_exactly_what_is_missing(counter_client, known):
    note(counter_client, known)
    page = counter_client.get(at(known)).content.decode()
    assert "Paperwork: incomplete" in page
    assert "hose: on the slip, not in the box" in page
    note(counter_client, known, enclosed=["probe", "hose", "trap"])
    assert "Paperwork: complete" in counter_client.get(at(known)).content.decode()


def test_photos_are_kept_small_and_without_what_the_camera_wrote(counter_client, known):
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x010F] = "Camera of A. Quay"
    Image.new("RGB", (3000, 2000), "tan").save(out, "JPEG", exif=exif)
    large = SimpleUploadedFile("large.jpg", out.getvalue(), content_type="image/jpeg")
    answer = counter_client.post(at(known, "photos"), {"photos": [large, photo("second.jpg", "gray")]}, headers=HTMX)
    assert answer.status_code == 200
    assert "2 photos kept" in answer.content.decode()
    kept = [Image.open(io.BytesIO(bytes(one.blob.content))) for one in BoxPhoto.objects.order_by("id")]
    assert kept[0].size == (1600, 1067)
    assert not kept[0].getexif()
    assert BoxPhoto.objects.filter(job=known.job, arrival=known).count() == 2


def test_a_photo_that_is_none_and_one_of_30_mb_are_refused_in_words_and_the_others_are_kept(counter_client, known):
    no_photo = SimpleUploadedFile("letter.jpg", b"%PDF-1.7 no photo", content_type="image/jpeg")
    huge = SimpleUploadedFile("huge.jpg", b"\xff\xd8" + bytes(31 * 2**20), content_type="image/jpeg")
    answer = counter_client.post(at(known, "photos"), {"photos": [no_photo, photo(), huge]}, headers=HTMX)
    page = answer.content.decode()
    assert "letter.jpg: This file is no photo" in page
    assert "huge.jpg: The photo has 31 MB; take one of at most 30 MB." in page
    assert "1 photo kept" in page
    assert BoxPhoto.objects.count() == 1


def bomb(side):
    """Return a PNG of a few kilobytes that unfolds to side x side pixels."""
    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(50_000), 9)), (b"IEND", b""))
    chunks = (
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in parts
    )
    return SimpleUploadedFile("bomb.png", b"\x89PNG\r\n\x1a\n" + b"".join(chunks), content_type="image/png")


@pytest.mark.parametrize("side", [12_000, 60_000])
def test_a_small_file_that_unfolds_to_a_huge_picture_is_refused_before_it_does(counter_client, known, side):
    page = counter_client.post(at(known, "photos"), {"photos": [bomb(side), photo()]}, headers=HTMX).content.decode()
    assert "bomb.png: The photo has " in page
    assert "take a smaller one." in page
    assert "1 photo kept" in page


def test_a_photo_that_breaks_off_and_one_with_no_bytes_are_refused_and_the_name_is_escaped(counter_client, known):
    whole = photo().read()
    broken = SimpleUploadedFile("<b>half.jpg", whole[: len(whole) // 3], content_type="image/jpeg")
    empty = SimpleUploadedFile("empty.jpg", b"", content_type="image/jpeg")
    page = counter_client.post(at(known, "photos"), {"photos": [broken, empty]}, headers=HTMX).content.decode()
    assert page.count('class="refusal"') == 2
    assert "<b>half" not in page


def test_the_same_photo_twice_is_one_and_without_a_photo_it_says_so(counter_client, known):
    for _ in range(2):
        counter_client.post(at(known, "photos"), {"photos": [photo()]})
    assert BoxPhoto.objects.count() == 1
    answer = counter_client.post(at(known, "photos"))
    assert answer.status_code == 422
    assert "No photo came" in answer.content.decode()


def test_a_box_that_nobody_knows_has_photos_too_and_no_check_list(counter_client, unknown):
    assert counter_client.get(at(unknown))["Location"] == reverse("arrivals:box", args=[unknown.pk])
    counter_client.post(at(unknown, "photos"), {"photos": [photo()]})
    assert BoxPhoto.objects.get().arrival == unknown


def test_strangers_and_owners_see_no_box(owner_client, client_of, known):
    for name in ("condition", "photos", "ask"):
        assert owner_client.post(at(known, name)).status_code == 403
        assert client_of("stranger").post(at(known, name)).status_code == 302
