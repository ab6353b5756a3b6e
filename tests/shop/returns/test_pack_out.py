"""The page of the pack-out."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from flueproof.shop.records.models import BoxPhoto, PackOut
from flueproof.shop.records.returning.pack_out import packing_of


def ticks(job):
    found = packing_of(job)
    parts = {f"part-{place}": "on" for place, _ in enumerate(found.parts)}
    return parts | {f"check-{line.check.name}": "on" for line in found.lines if not line.check.says}


def photo(name="box.jpg"):
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "white").save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), "image/jpeg")


def test_all_ticked_closes_the_box_once(counter_client, leaving, page):
    for _ in range(2):
        answer = page(counter_client, "pack-out", leaving.number, act="close", **ticks(leaving))
        assert answer.status_code == 302
    assert packing_of(leaving).done
    assert leaving.moments.filter(what="packed").count() == 1


def test_what_is_open_is_named_and_what_was_ticked_is_kept(counter_client, leaving, page):
    answer = page(counter_client, "pack-out", leaving.number, act="close", **{"part-0": "on", "stays-1": "burst"})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "air sensor: goes back, or stays for a reason?" in text
    assert 'name="part-0" checked' in text
    assert 'value="burst"' in text
    assert PackOut.objects.get().goes_back == ["probe"]


def test_what_is_ticked_can_be_kept_without_closing(technician_client, leaving, page):
    assert page(technician_client, "pack-out", leaving.number, act="keep", **{"part-0": "on"}).status_code == 302
    assert not packing_of(leaving).done


def test_a_job_that_is_not_to_go_back_is_not_closed(counter_client, job, shop, page):
    answer = page(counter_client, "pack-out", job.number, act="close", **ticks(job))
    assert answer.status_code == 422
    assert "to go back" in answer.content.decode()


def test_each_check_has_a_key(counter_client, leaving, page):
    text = page(counter_client, "pack-out", leaving.number).content.decode()
    assert 'data-key="F4"' in text
    assert 'name="check-dry" data-key="4"' in text


def test_photos_are_kept_and_shown_and_what_is_none_is_told(counter_client, leaving, page):
    bad = SimpleUploadedFile("x.jpg", b"no photo at all", "image/jpeg")
    answer = counter_client.post(
        reverse("returns:pack-out-photos", args=[leaving.number]), {"photo": [photo(), bad]}, follow=True
    )
    assert "no photo that can be read" in answer.content.decode()
    kept = BoxPhoto.objects.get()
    shown = page(counter_client, "photo", kept.pk)
    assert (shown["Content-Type"], shown["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")


def test_no_photo_is_told(counter_client, leaving):
    address = reverse("returns:pack-out-photos", args=[leaving.number])
    assert "No photo came" in counter_client.post(address, follow=True).content.decode()


@pytest.mark.parametrize("name", ["pack-out-photos"])
def test_photos_are_not_taken_by_get(counter_client, leaving, page, name):
    assert page(counter_client, name, leaving.number).status_code == 405
