"""A shop with an analyzer that is awaited, and boxes that came."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from flueproof.shop.records.intake.arrivals import enter_box
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.models import Job, RequestedAnalyzer, ServiceRequest


@pytest.fixture
def by(people):
    return people["counter"]


@pytest.fixture
def awaited(owner, analyzer, now):
    return Job.objects.create(
        number="J-2026-00050",
        owner=owner,
        analyzer=analyzer,
        state="requested",
        complaint="O2 reads high",
        enclosed_announced=["probe", "hose", "trap"],
        opened_at=now,
    )


@pytest.fixture
def slip(awaited, now):
    """The slip of the awaited job."""
    request = ServiceRequest.objects.create(
        code="R-AAAAAA", state="confirmed", owner=awaited.owner, firm="Tidewater Heating (invented)", made_at=now
    )
    from flueproof.shop.records.intake.slips import new_slip

    code = new_slip(lambda below: 7 % below)
    return RequestedAnalyzer.objects.create(request=request, slip=code, job=awaited, analyzer=awaited.analyzer)


@pytest.fixture
def unknown(by, now, shop):
    """A box that nobody knows yet."""
    return enter_box(by, now, clues={"serial": "O5-2?417"})


@pytest.fixture
def known(unknown, awaited, by, now):
    """The same box after somebody knew it."""
    return take_job(unknown, awaited, by, now).arrival


def photo(name="box.jpg", color="tan", size=(640, 480)):
    """Return a drawn photo as a form sends it."""
    out = io.BytesIO()
    Image.new("RGB", size, color).save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg")
