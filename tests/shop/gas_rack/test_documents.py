"""Papers of a reference: checked by their content, served as what they are."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from flueproof.shop.gas_rack.forms.documents import LARGEST_BYTES, media_type_of

PDF = b"%PDF-1.4\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n"


def png():
    out = io.BytesIO()
    Image.new("RGB", (8, 8), "white").save(out, "PNG")
    return out.getvalue()


def send(client, content, name="LN-88213.pdf", title="Certificate", kind="application/pdf"):
    file = SimpleUploadedFile(name, content, content_type=kind)
    return client.post(reverse("gas_rack:upload", args=["CYL-0007"]), {"title": title, "file": file})


def test_a_pdf_is_kept_and_served_with_nothing_to_guess(technician_client, bottle):
    assert send(technician_client, PDF).status_code == 302
    kept = bottle.documents.get()
    answer = technician_client.get(reverse("gas_rack:document", args=[kept.pk]))
    assert answer.content == PDF
    assert answer["Content-Type"] == "application/pdf"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"] == 'inline; filename="LN-88213.pdf"'
    assert kept.history.get().history_user.username == "technician"


def test_a_picture_is_known_by_its_content_whatever_it_is_called(technician_client, bottle):
    send(technician_client, png(), name="x.pdf")
    assert bottle.documents.get().blob.media_type == "image/png"


@pytest.mark.parametrize("content", [b"<html><script>x</script>", b"%PDF-1.4 cut", b"GIF89a", png()[:40], b"MZ\x90"])
def test_anything_else_is_refused_and_the_title_is_kept(technician_client, bottle, content):
    answer = send(technician_client, content, title="My words")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "no whole PDF" in page
    assert "My words" in page
    assert not bottle.documents.exists()


def test_an_empty_file_is_refused(technician_client, bottle):
    assert send(technician_client, b"").status_code == 422


def test_more_than_20_mb_is_refused(technician_client, bottle):
    answer = send(technician_client, PDF + b"\0" * LARGEST_BYTES)
    assert answer.status_code == 422
    assert "at most 20 MB" in answer.content.decode()


def test_the_same_file_twice_is_one_paper(technician_client, bottle):
    for _ in range(2):
        send(technician_client, PDF)
    assert bottle.documents.count() == 1


def test_an_owner_and_a_stranger_see_no_paper(technician_client, owner_client, client, bottle):
    send(technician_client, PDF)
    there = reverse("gas_rack:document", args=[bottle.documents.get().pk])
    assert owner_client.get(there).status_code == 403
    assert client.get(there).status_code == 302
    assert technician_client.post(there).status_code == 405


def test_a_picture_too_large_to_open_is_no_paper(monkeypatch):
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 10)
    assert media_type_of(png()) == ""
