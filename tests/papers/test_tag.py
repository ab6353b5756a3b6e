import math

import pytest

from flueproof.bench.judgement import Action, Verdict
from flueproof.papers.tag import tag_content, tag_pdf


@pytest.fixture(scope="module")
def low(sample):
    return sample.judgement_of(points=(sample.point("co", 502.0, 447.6),), as_left=None)


def test_the_tag_is_one_page_that_cannot_be_overlooked(record, low, issue, readback):
    made = tag_pdf(record, low, issue)
    assert readback.sizes_mm(made) == [(80.0, 160.0)]
    said = readback.flat(made)
    for wanted in ("DONOTUSE", "COreadstoolow", "O5-20417", "TidewaterHeating(invented)", "itread447.6ppm", "±25.1ppm"):
        assert wanted in said


@pytest.mark.parametrize("settled", [math.nan, 0.0])
def test_a_dead_cell_is_called_dead(sample, record, issue, settled):
    judgement = sample.judgement_of(points=(sample.point("co", 502.0, settled, statement="not-conform"),), as_left=None)
    assert tag_content(record, judgement, issue)["what"] == "CO does not read"


def test_no_tag_where_the_unit_was_made_good(record, judgement, issue):
    assert tag_pdf(record, judgement, issue) is None


def test_the_tag_says_the_one_next_action_and_has_room_to_write_that_the_owner_was_told(
    sample, record, low, issue, readback
):
    work = Verdict("work-needed", (Action("adjust", "low", channel="co", enter={"unit": "ppm", "value": 502}),))
    judged = sample.judgement_of(points=low.points, as_left=None, as_found=work)
    assert tag_content(record, judged, issue)["next"] == "adjust: CO, enter 502 ppm."
    assert "Ownertoldon" in readback.flat(tag_pdf(record, judged, issue))
    plain = sample.judgement_of(points=low.points, as_left=None, as_found=Verdict("outside-as-ordered"))
    assert tag_content(record, plain, issue)["next"] == "ask the owner: mend or retire."


def test_long_names_stay_on_one_tag(sample, low, issue, readback):
    given = sample.record_json()
    given["owner"]["name"] = "W" * 120
    given["analyzer"]["serial"] = "8" * 60
    assert len(readback.sizes_mm(tag_pdf(sample.record_of(given), low, issue))) == 1
