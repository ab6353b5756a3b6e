"""An owner sees their own analyzers, visits and logs; the shop's people see all; nobody else sees any."""

import pytest

from flueproof.shop.records.field_logs.keeping import keep_log
from flueproof.shop.records.field_logs.seeing import analyzers_seen_by, logs_seen_by, may_keep, visits_seen_by
from flueproof.shop.records.models import Owner

SEEING = (analyzers_seen_by, visits_seen_by, logs_seen_by)


@pytest.fixture
def kept(low, content, consent, people, now):
    return keep_log(low, content, consent, people["counter"], now)


def test_the_owner_and_the_shops_people_see_them(kept, people):
    for role in ("counter", "technician", "signer", "manager", "owner"):
        assert [seen(people[role]).count() for seen in SEEING] == [1, 1, 1], role
        assert may_keep(people[role])


def test_another_owner_and_an_owner_without_a_firm_see_none(kept, people):
    person = people["owner"]
    for firm in (Owner.objects.create(name="Upland Burners (invented)"), None):
        person.owner = firm
        assert [seen(person).count() for seen in SEEING] == [0, 0, 0]


def test_an_owner_that_was_merged_into_mine_is_mine(kept, people):
    mine = Owner.objects.create(name="Tidewater Heating and Cooling (invented)")
    kept.owner.merged_into = mine
    kept.owner.save()
    people["owner"].owner = mine
    assert [seen(people["owner"]).count() for seen in SEEING] == [1, 1, 1]


def test_a_role_without_the_right_sees_none(kept, people, monkeypatch):
    from flueproof.shop.records.people import rights

    monkeypatch.setitem(rights.RIGHTS, "see-duties", frozenset())
    monkeypatch.setitem(rights.RIGHTS, "tell-owners", frozenset())
    assert [seen(people["counter"]).count() for seen in SEEING] == [0, 0, 0]
    assert not may_keep(people["counter"])
