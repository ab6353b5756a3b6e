"""The search page: finds while typing, goes straight to what was scanned, tells strangers nothing."""

import pytest

from flueproof.shop.records.models import Owner

ADDRESS = "/search"


def test_an_owner_is_found_and_what_was_typed_is_marked(counter_client, shop, owner):
    page = counter_client.get(ADDRESS, {"q": "tide"}).content.decode()
    assert "<mark>Tide</mark>water Heating (invented)" in page
    assert "<html" in page


def test_while_typing_only_the_list_is_answered(counter_client, shop, owner):
    page = counter_client.get(ADDRESS, {"q": "tide"}, headers={"HX-Request": "true"}).content.decode()
    assert "<mark>Tide</mark>" in page
    assert "<html" not in page


def test_the_list_while_typing_stays_even_when_one_row_is_named_in_full(counter_client, shop, job):
    answer = counter_client.get(ADDRESS, {"q": job.number}, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert 'class="exact"' in answer.content.decode()


def test_a_scan_goes_straight_to_the_job_the_analyzer_and_the_cylinder(counter_client, shop, job, analyzer):
    assert counter_client.get(ADDRESS, {"q": job.number})["Location"].endswith(f"/{job.number}")
    assert str(analyzer.pk) in counter_client.get(ADDRESS, {"q": analyzer.serial})["Location"]


def test_an_analyzer_shows_its_open_job(counter_client, shop, job):
    page = counter_client.get(ADDRESS, {"q": "417"}).content.decode()
    assert f'open job <span class="plate">{job.number}' in page


def test_nothing_typed_says_what_can_be_typed(counter_client, shop):
    assert "Type a part of anything" in counter_client.get(ADDRESS).content.decode()


def test_nothing_found_says_what_to_try_and_keeps_what_was_typed(counter_client, shop):
    page = counter_client.get(ADDRESS, {"q": "zzz <b>"}).content.decode()
    assert "Nothing found" in page
    assert "zzz &lt;b&gt;" in page
    assert "<b>" not in page


def test_a_long_list_says_that_there_is_more(counter_client, shop, db):
    for i in range(15):
        Owner.objects.create(name=f"Tide {i} (invented)")
    assert "12 and more" in counter_client.get(ADDRESS, {"q": "tide"}).content.decode()


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_searching_by_another_method_is_refused(counter_client, shop, method):
    assert getattr(counter_client, method)(ADDRESS).status_code == 405


def test_a_stranger_is_sent_to_sign_in(client, shop):
    answer = client.get(ADDRESS, {"q": "tide"})
    assert answer.status_code == 302
    assert "/sign-in" in answer["Location"]


def test_an_owner_does_not_search_the_shop(owner_client, shop):
    assert owner_client.get(ADDRESS, {"q": "tide"}).status_code == 403
