"""What is checked before a box is closed, and what the records say of it already."""

import pytest

from flueproof.shop.records.models import BoxPhoto
from flueproof.shop.records.returning.packing import NOT_NEEDED, TAG, YES, checks_of, tag_needed
from flueproof.shop.records.returning.photos import keep_leaving_photo
from flueproof.shop.records.returning.unrepaired import return_unrepaired


def said(job):
    return {check.name: check.says for check in checks_of(job)}


def test_a_healthy_analyzer_needs_its_paper_and_sticker_and_no_tag(signed_job):
    job = signed_job("healthy")
    answers = said(job)
    assert answers["gas-check"] == YES
    assert answers[TAG] == NOT_NEEDED
    assert (answers["paper"], answers["sticker"], answers["dry"], answers["photo"]) == ("", "", "", "")
    assert answers["settings"] == NOT_NEEDED
    assert answers["due-date"] == ""  # a due date stands on the paper; nobody said that the unit knows it


def test_a_unit_that_reads_low_needs_its_tag_and_the_paper_says_what_its_gas_showed(signed_job):
    job = signed_job("verified-outside")
    checks = {check.name: check for check in checks_of(job)}
    assert checks[TAG].says == ""
    assert not checks[TAG].safe
    assert tag_needed(job)
    assert checks["gas-check"].says == NOT_NEEDED
    assert "does not conform" in checks["gas-check"].told
    assert checks["due-date"].says == NOT_NEEDED


def test_what_was_mended_was_on_gas_after_the_work(signed_job):
    checks = {check.name: check for check in checks_of(signed_job("co-cell-replaced"))}
    assert checks["gas-check"].says == YES
    assert "conforms" in checks["gas-check"].told
    assert checks[TAG].says == NOT_NEEDED


def test_a_job_without_a_visit_asks_for_what_a_hand_can_see(leaving):
    answers = said(leaving)
    assert answers["gas-check"] == ""
    assert (answers["paper"], answers["sticker"]) == (NOT_NEEDED, NOT_NEEDED)
    leaving.enclosed = []
    assert said(leaving)["gas-check"] == NOT_NEEDED
    assert said(leaving)["dry"] == NOT_NEEDED


def test_given_up_means_tagged(leaving, people, now):
    return_unrepaired(leaving, "beyond-our-access", "", "Reads low on CO.", people["counter"], now)
    assert tag_needed(leaving)


@pytest.fixture
def jpeg():
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(out, "JPEG")
    return out.getvalue()


def test_a_photo_is_a_yes(leaving, people, now, jpeg):
    keep_leaving_photo(leaving, jpeg, "open box", people["counter"], now)
    assert said(leaving)["photo"] == YES
    assert BoxPhoto.objects.get().when == "pack-out"
