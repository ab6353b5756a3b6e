"""A log is kept only with the owner's word, opened again and computed anew, and erased so that nothing is left."""

import datetime as dt
import json

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.records.models import FieldLog

from .conftest import ONE_HOUSE, OWN_LIMIT, stored

WORD = "Ada Quay (invented), by phone"


@pytest.fixture
def word():
    return {
        "said": WORD,
        "keep_until": (timezone.localdate() + dt.timedelta(days=90)).isoformat(),
        "log_name": "Spring",
    }


@pytest.fixture
def kept(low, technician_client, sent, word):
    answer = sent(technician_client, low, "impact:keep", text=ONE_HOUSE, air_free="german", **OWN_LIMIT, **word)
    assert answer.status_code == 302
    return FieldLog.objects.get()


def test_a_log_is_kept_with_who_said_so_and_until_when(kept, low, technician_client, people):
    assert (kept.said, kept.name, kept.owner, kept.kept_by) == (WORD, "Spring", low.job.owner, people["technician"])
    text = technician_client.get(reverse("impact:kept", args=[kept.pk])).content.decode()
    for part in (WORD, "Spring", "House 1", "1 of 1 reading must be tested again", "It never clears an appliance"):
        assert part in text, part


def test_a_second_press_keeps_nothing_more(kept, low, technician_client, sent, word):
    sent(technician_client, low, "impact:keep", text=ONE_HOUSE, air_free="german", **OWN_LIMIT, **word)
    assert FieldLog.objects.count() == 1


def test_the_owners_convention_is_kept_with_it(kept, technician_client):
    told = json.loads(technician_client.get(reverse("impact:kept-json", args=[kept.pk])).content)
    assert "CO air-free with 21 % oxygen" in told["conventions"]["natural-gas-us"]
    assert told["rows"][0]["shown"]["co_air_free_ppm"] == 80 * 21 / 16


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"said": "  "}, "nothing is kept without the owner&#x27;s word"),
        ({"keep_until": ""}, "Say until when it may be kept"),
        ({"keep_until": "2020-01-01"}, "Choose a day from today on"),
        ({"keep_until": "2099-01-01"}, "Choose a day from today on"),
        ({"keep_until": "soon"}, "Enter a valid date"),
        ({"text": "date,O2\n03/04/2026,5\n"}, "Which comes first"),
    ],
)
def test_without_the_owners_word_and_a_day_nothing_is_kept(low, technician_client, sent, word, wrong, said):
    before = stored()
    answer = sent(technician_client, low, "impact:keep", **{"text": ONE_HOUSE, **OWN_LIMIT, **word, **wrong})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert said in text
    assert "Spring" in text
    assert stored() == before


def test_a_kept_log_is_listed_with_its_analyzer(kept, low, technician_client, page):
    assert reverse("impact:kept", args=[kept.pk]) in page(technician_client, low)


def test_a_kept_log_can_be_filtered_by_its_address(kept, technician_client):
    address = reverse("impact:kept", args=[kept.pk])
    assert "No reading is like that." in technician_client.get(address, {"show": "same"}).content.decode()


def test_its_list_and_letter_can_be_had_again(kept, technician_client):
    for ending, start in (("csv", b"\xef\xbb\xbfline"), ("json", b"{"), ("letter", b"%PDF")):
        answer = technician_client.get(reverse(f"impact:kept-{ending}", args=[kept.pk]))
        assert answer.status_code == 200
        assert answer.content.startswith(start)


def test_erased_is_gone_and_a_second_press_finds_nothing(kept, technician_client):
    kept_rows = stored()
    address = reverse("impact:erase", args=[kept.pk])
    assert technician_client.get(address).status_code == 405
    assert technician_client.post(address)["Location"] == reverse("impact:analyzer", args=[kept.analyzer_id])
    assert FieldLog.objects.count() == 0
    assert {name for name, count in stored().items() if count < kept_rows[name]} == {"records.FieldLog"}
    assert technician_client.post(address).status_code == 404
    assert technician_client.get(reverse("impact:kept", args=[kept.pk])).status_code == 404


def test_an_owner_may_keep_and_erase_their_own_and_sees_no_other(low, owner_client, sent, word, stranger_firm):
    assert sent(owner_client, low, "impact:keep", text=ONE_HOUSE, **word).status_code == 302
    log = FieldLog.objects.get()
    assert owner_client.get(reverse("impact:kept", args=[log.pk])).status_code == 200
    log.owner = stranger_firm
    log.save()
    for name in ("kept", "kept-csv", "kept-json", "kept-letter"):
        assert owner_client.get(reverse(f"impact:{name}", args=[log.pk])).status_code == 404
    assert owner_client.post(reverse("impact:erase", args=[log.pk])).status_code == 404
    log.owner = low.job.owner
    log.save()
    assert owner_client.post(reverse("impact:erase", args=[log.pk])).status_code == 302
    assert FieldLog.objects.count() == 0


def test_a_role_without_the_right_can_neither_keep_nor_erase(kept, low, technician_client, sent, word, monkeypatch):
    from flueproof.shop.records.people import rights

    monkeypatch.setitem(rights.RIGHTS, "tell-owners", frozenset({"manager"}))
    assert sent(technician_client, low, "impact:keep", text=ONE_HOUSE, **word).status_code == 403
    assert technician_client.post(reverse("impact:erase", args=[kept.pk])).status_code == 403
    assert "Erase for good" not in technician_client.get(reverse("impact:kept", args=[kept.pk])).content.decode()
    assert FieldLog.objects.count() == 1


def test_a_kept_log_of_foreign_form_is_said_to_be_unreadable(kept, technician_client):
    kept.limits = []
    kept.save()
    text = technician_client.get(reverse("impact:kept", args=[kept.pk])).content.decode()
    assert "the limits of this log cannot be read" in text
    assert technician_client.get(reverse("impact:kept-csv", args=[kept.pk])).status_code == 302


def test_a_stranger_sees_no_kept_log(kept, client_of):
    for name in ("kept", "kept-csv", "kept-json", "kept-letter"):
        answer = client_of("stranger").get(reverse(f"impact:{name}", args=[kept.pk]))
        assert answer["Location"].startswith(reverse("frame:login"))
