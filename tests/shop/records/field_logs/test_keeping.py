"""A log is kept only with the owner's word, until a day, once; what was kept comes back as it was."""

import dataclasses
import datetime as dt

import pytest

from flueproof.impact.errors import LimitError
from flueproof.shop.records.field_logs.keeping import KeepingError, content_of, keep_log
from flueproof.shop.records.models import FieldLog


def test_what_was_kept_comes_back_as_it_was(low, content, consent, people, now):
    log = keep_log(low, content, consent, people["counter"], now)
    log.refresh_from_db()
    again = content_of(log)
    assert again.limits == content.limits
    assert again.convention == content.convention
    assert again.last_good == content.last_good
    assert [row.as_dict() for row in again.rows] == [row.as_dict() for row in content.rows]
    assert (log.owner, log.analyzer, log.visit) == (low.job.owner, low.job.analyzer, low)


def test_the_same_log_kept_twice_is_one_row_and_another_one_is_its_own(low, content, consent, people, now):
    first = keep_log(low, content, consent, people["counter"], now)
    assert keep_log(low, content, consent, people["manager"], now) == first
    other = dataclasses.replace(content, last_good=None)
    assert keep_log(low, other, consent, people["counter"], now) != first
    assert FieldLog.objects.count() == 2


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"said": " "}, "said"),
        ({"keep_until": None}, "keep_until"),
        ({"keep_until": dt.date(2026, 11, 24)}, "keep_until"),
        ({"keep_until": dt.date(2030, 1, 1)}, "keep_until"),
    ],
)
def test_without_word_or_day_nothing_is_kept(low, content, consent, people, now, wrong, field):
    with pytest.raises(KeepingError) as refused:
        keep_log(low, content, dataclasses.replace(consent, **wrong), people["counter"], now)
    assert refused.value.field == field
    assert not FieldLog.objects.exists()


def test_a_log_without_readings_is_none(low, content, consent, people, now):
    with pytest.raises(KeepingError, match="no reading to keep"):
        keep_log(low, dataclasses.replace(content, rows=()), consent, people["counter"], now)


def test_foreign_limits_are_refused_in_words(low, content, consent, people, now):
    log = keep_log(low, content, consent, people["counter"], now)
    log.limits = [{"name": "x"}]
    with pytest.raises(LimitError, match="cannot be read"):
        content_of(log)
