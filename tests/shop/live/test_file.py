"""A logger's file, photos of the display, and the station."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from flueproof.shop.records.models import Blob, Reading
from flueproof.shop.records.visits.looks.of_application import looks_of

HTMX = {"HX-Request": "true"}
CSV = b"time_s,co_ppm,o2_%\n0,0,20.9\n10,210,5.1\n20,402,1.2\n30,455,0.2\n"


def send(client, application, content, **fields):
    file = SimpleUploadedFile("log.csv", content)
    return client.post(f"/live/run/{application.pk}/file", {"file": file, **fields}, headers=HTMX)


def test_a_logger_s_file_becomes_the_trace(technician_client, application):
    assert send(technician_client, application, CSV).status_code == 200
    co = next(one for one in looks_of(application) if one.channel == "co")
    assert co.shown == (0, 210, 402, 455)
    assert co.t_s == (0, 10, 20, 30)


def test_the_same_file_twice_adds_nothing(technician_client, application):
    send(technician_client, application, CSV)
    send(technician_client, application, CSV)
    assert Reading.objects.count() == 8


def test_gas_on_in_the_middle_of_the_file_moves_its_times(technician_client, application):
    send(technician_client, application, CSV, gas_on_s="10")
    assert sorted(Reading.objects.filter(channel="co").values_list("t_s", flat=True)) == [-10, 0, 10, 20]


@pytest.mark.parametrize(
    ("content", "said"),
    [(b"time_s,draft_Pa\n0,1\n1,2\n", "Rename the column"), (b"time_s,co_ppm\n0,x\n", ""), (b"", "")],
)
def test_a_file_that_does_not_fit_is_refused_in_words(technician_client, application, content, said):
    answer = send(technician_client, application, content, gas_on_s="7")
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert 'value="7"' in answer.content.decode()  # what was typed is kept
    assert not Reading.objects.exists()


def photo(size=(3000, 2000), kind="JPEG"):
    out = io.BytesIO()
    picture = Image.new("RGB", size, "gray")
    exif = picture.getexif()
    exif[0x010F] = "a camera"
    picture.save(out, kind, exif=exif)
    return out.getvalue()


def upload(client, content):
    return client.post("/live/photo", {"photo": SimpleUploadedFile("p.jpg", content)})


def test_a_photo_is_made_small_and_kept_without_exif(technician_client, shop):
    answer = upload(technician_client, photo())
    assert answer.status_code == 201
    kept = Image.open(io.BytesIO(bytes(Blob.objects.get(pk=answer.json()["photo"]).content)))
    assert kept.size == (1600, 1067)
    assert not dict(kept.getexif())
    shown = technician_client.get(f"/live/photo/{answer.json()['photo']}.jpg")
    assert shown["Content-Type"] == "image/jpeg"


def test_what_is_no_photo_is_refused(technician_client, shop):
    assert upload(technician_client, b"not a picture").status_code == 422
    assert technician_client.post("/live/photo").status_code == 422
    assert not Blob.objects.exists()


def test_a_photo_goes_into_the_record_with_the_value(technician_client, application):
    import json

    kept = upload(technician_client, photo((400, 300))).json()["photo"]
    body = {"source": "page-0011", "sequence": 1, "channel": "co", "mark_s": 0, "shown": "486", "photo": kept}
    technician_client.post(f"/live/run/{application.pk}/type", json.dumps(body), content_type="application/json")
    answer = technician_client.post(f"/live/run/{application.pk}/finish", headers=HTMX)
    assert answer.status_code == 200, answer.content.decode()
    last = json.loads(application.visit.events.order_by("position").last().body)
    assert (last["kind"], last["file"]) == ("photo", f"{kept}.jpg")


def test_a_photo_of_nothing_is_not_found(technician_client, shop):
    assert technician_client.get("/live/photo/" + "0" * 64 + ".jpg").status_code == 404


def test_the_station_is_set_and_taken_back(technician_client, visit, station):
    technician_client.post(f"/live/{visit.pk}/station", {"station": ""}, headers=HTMX)
    visit.refresh_from_db()
    assert visit.station is None
    technician_client.post(f"/live/{visit.pk}/station", {"station": station.pk}, headers=HTMX)
    visit.refresh_from_db()
    assert visit.station == station


def test_others_bring_no_files_and_set_no_station(counter_client, client, application, visit, shop):
    assert send(counter_client, application, CSV).status_code == 403
    assert upload(counter_client, photo()).status_code == 403
    assert counter_client.post(f"/live/{visit.pk}/station").status_code == 403
    assert client.post("/live/photo").status_code == 302
    assert not Reading.objects.exists()
