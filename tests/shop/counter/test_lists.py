"""The lists of owners and analyzers: each row once, narrowed by its beginning, page by page."""

import re

import pytest

from flueproof.shop.records.models import Analyzer, Owner


@pytest.fixture
def many(shop, owner):
    """Ninety analyzers of one firm, and fifty other firms, two by two of one name."""
    made = [Owner.objects.create(name=f"Fen {number // 2:02} (invented)") for number in range(50)]
    for number in range(90):
        Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial=f"Z-{number:03}")
    return made


def walk(client, path, pattern):
    found, pages = [], 0
    while path:
        page = client.get(path).content.decode()
        found += re.findall(pattern, page)
        further = re.search(r'href="\?(after=[^"]+|begins=[^"]+)"', page)
        path = path.split("?")[0] + "?" + further[1].replace("&amp;", "&") if further else ""
        pages += 1
        assert pages < 10
    return found


def test_every_owner_stands_once_in_the_order_of_names(counter_client, many):
    found = walk(counter_client, "/owners/", r'<th scope="row"><a href="/owners/(\d+)"')
    assert len(found) == len(set(found)) == 51
    assert found[:50] == [str(row.pk) for row in many]


def test_every_analyzer_stands_once_by_serial(counter_client, many):
    found = walk(counter_client, "/analyzers/", r'<a class="plate" href="/analyzers/\d+">([^<]+)<')
    assert found == [f"Z-{number:03}" for number in range(90)]


def test_the_beginning_narrows_signs_and_capitals_aside(counter_client, many):
    page = counter_client.get("/analyzers/", {"begins": "z08"}).content.decode()
    assert re.findall(r">(Z-\d+)<", page) == [f"Z-08{number}" for number in range(10)]
    assert "Fen 07" in counter_client.get("/owners/", {"begins": "fen 07"}).content.decode()
    assert "No serial begins" in counter_client.get("/analyzers/", {"begins": "q"}).content.decode()


def test_owners_show_whom_to_ring_and_counts_that_do_not_multiply(counter_client, shop, job, owner):
    owner.contacts.create(name="Zed Quay (invented)", phone="555-0999")
    owner.addresses.create(lines="2 Quay Street", town="Port Alder")
    page = counter_client.get("/owners/").content.decode()
    assert "Ada Quay (invented)" in page
    assert page.count('<td class="number">1</td>') == 2


def test_an_analyzer_that_is_here_leads_to_its_job(counter_client, shop, job):
    assert f"/jobs/{job.number}" in counter_client.get("/analyzers/").content.decode()


@pytest.mark.parametrize("path", ["/owners/", "/analyzers/"])
def test_a_list_is_for_the_shops_people_to_read(client_of, shop, path):
    assert client_of("technician").get(path).status_code == 200
    assert client_of("technician").post(path).status_code == 405
    assert client_of("owner").get(path).status_code == 403
    assert "/sign-in" in client_of("stranger").get(path)["Location"]
    assert client_of("technician").get(path, {"after": "nonsense"}).status_code == 400


def test_a_list_costs_few_questions(counter_client, many, django_assert_max_num_queries):
    counter_client.get("/analyzers/")
    with django_assert_max_num_queries(6):
        counter_client.get("/analyzers/")
