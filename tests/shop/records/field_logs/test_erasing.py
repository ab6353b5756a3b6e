"""Erased is gone, from every table; a log whose last day is over goes by itself."""

import dataclasses
import datetime as dt

from django.apps import apps
from django.db import connection

from flueproof.shop.records.field_logs.erasing import erase_expired, erase_log
from flueproof.shop.records.field_logs.keeping import keep_log
from flueproof.shop.records.models import FieldLog

SITE = "A site label that stands nowhere else"


def everywhere(words):
    """Return the tables in whose rows the words stand."""
    found = set()
    for model in apps.get_models():
        with connection.cursor() as cursor:
            cursor.execute(f'SELECT * FROM "{model._meta.db_table}"')  # noqa: S608 -- names of our own tables
            if any(words in str(value) for row in cursor for value in row):
                found.add(model._meta.label)
    return found


def test_an_erased_log_stands_in_no_table_any_more(low, content, consent, people, now):
    row = dataclasses.replace(content.rows[0], site=SITE)
    log = keep_log(low, dataclasses.replace(content, rows=(row,)), consent, people["counter"], now)
    assert everywhere(SITE) == {"records.FieldLog"}
    assert erase_log(log.pk)
    assert everywhere(SITE) == set()
    assert not erase_log(log.pk)


def test_a_log_goes_on_the_day_after_its_last_one(low, content, consent, people, now):
    today = dataclasses.replace(consent, keep_until=now.date())
    keep_log(low, content, today, people["counter"], now)
    later = keep_log(low, dataclasses.replace(content, last_good=None), consent, people["counter"], now)
    assert erase_expired(now) == 0
    assert erase_expired(now + dt.timedelta(days=1)) == 1
    assert list(FieldLog.objects.all()) == [later]
    assert erase_expired(now + dt.timedelta(days=1)) == 0


def test_sqlite_writes_over_what_is_freed(low, content, consent, people, now):
    log = keep_log(low, content, consent, people["counter"], now)
    erase_log(log.pk)
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete")
            assert cursor.fetchone() == (1,)
    assert not FieldLog.objects.exists()
