"""Photos of a box as it leaves."""

import io

import pytest
from PIL import Image

from flueproof.shop.records.keeping.photos import PhotoError
from flueproof.shop.records.models import BoxPhoto
from flueproof.shop.records.returning.photos import keep_leaving_photo, leaving_photos


def jpeg(color="white", size=(40, 30)):
    out = io.BytesIO()
    Image.new("RGB", size, color).save(out, "JPEG", exif=b"Exif\0\0MM\0*\0\0\0\x08\0\0\0\0\0\0")
    return out.getvalue()


def test_the_same_photo_is_kept_once_and_another_beside_it(job, people, now):
    for color in ("white", "white", "black"):
        keep_leaving_photo(job, jpeg(color), "open box", people["counter"], now)
    assert len(leaving_photos(job)) == 2
    assert b"Exif" not in bytes(BoxPhoto.objects.first().blob.content)


def test_what_is_no_photo_is_refused_and_nothing_is_kept(job, people, now):
    with pytest.raises(PhotoError):
        keep_leaving_photo(job, b"%PDF-1.7 no photo", "", people["counter"], now)
    assert leaving_photos(job) == []
