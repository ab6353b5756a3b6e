"""What was recorded is never changed or removed, whatever program asks."""

import pytest
from django.db import IntegrityError, connection, transaction

from flueproof.shop.records.keeping.append_only import (
    APPEND_ONLY_TABLES,
    make_append_only,
    missing_triggers,
    trigger_name,
)
from flueproof.shop.records.models import BenchEvent
from flueproof.shop.records.visits.opening import open_visit


@pytest.fixture
def event(job, people, shop, now):
    return open_visit(job, people["technician"], now, shop).events.get()


def test_every_trigger_is_there_after_the_migrations(db):
    assert missing_triggers(connection) == []


@pytest.mark.parametrize(
    "statement",
    ["UPDATE records_benchevent SET body = 'x' WHERE id = %s", "DELETE FROM records_benchevent WHERE id = %s"],
)
def test_the_database_itself_refuses_a_change(event, statement):
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement, [event.pk])
    assert BenchEvent.objects.get(pk=event.pk).body == event.body


def test_a_trigger_that_got_lost_is_seen_and_made_again(db):
    table = APPEND_ONLY_TABLES[0]
    name = trigger_name(table, "UPDATE")
    with connection.cursor() as cursor:
        cursor.execute(f'DROP TRIGGER "{name}"' + (f" ON {table}" if connection.vendor == "postgresql" else ""))
    assert missing_triggers(connection) == [name]
    make_append_only(connection)
    assert missing_triggers(connection) == []
