from flueproof.papers.papers_for import papers_for


def test_a_certified_unit_gets_certificate_and_stickers(record, profile, judgement, issue):
    papers = papers_for(record, profile, judgement, issue)
    assert sorted(papers) == ["certificate.pdf", "sticker.pdf", "sticker.zpl"]
    assert all(papers[name].startswith(b"%PDF") for name in ("certificate.pdf", "sticker.pdf"))
    assert papers["sticker.zpl"].startswith(b"^XA")


def test_a_unit_that_reads_low_gets_a_report_and_a_tag_and_nothing_that_looks_like_a_pass(
    sample, record, profile, issue
):
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, 447.6),), as_left=None)
    assert sorted(papers_for(record, profile, judgement, issue)) == ["bench-report.pdf", "tag.pdf"]
