import io

from PIL import Image

from flueproof.papers.papers_for import papers_for
from flueproof.papers.pictures_of import pictures_of


def test_a_certificate_is_pictured_page_by_page_with_its_sticker(record, profile, judgement, issue, readback):
    pictures = pictures_of(record, profile, judgement, issue)
    pages = [name for name in pictures if name.startswith("page-")]
    assert len(pages) == len(readback.text_of(papers_for(record, profile, judgement, issue)["certificate.pdf"]))
    assert "sticker" in pictures
    assert "tag" not in pictures
    for name in pages:
        width, height = Image.open(io.BytesIO(pictures[name])).size
        assert abs(height / width - 297 / 210) < 0.005  # ISO 216: A4 is 210 mm by 297 mm


def test_a_report_with_a_tag_is_pictured_without_a_sticker(sample, record, profile, issue):
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, 447.6),), as_left=None)
    pictures = pictures_of(record, profile, judgement, issue)
    assert "sticker" not in pictures
    assert "tag" in pictures
