"""The page of an analyzer: what was found in words, as pictures and as tables, and who may see it."""

import pytest
from django.urls import reverse

RULE = "A corrected value may raise an alarm. It never clears an appliance"


def test_what_was_found_stands_in_words_with_direction_size_and_uncertainty(low, technician_client, page):
    text = page(technician_client, low)
    assert "Your analyzer showed CO about 18 % too low (between 15 and 21 %)" in text
    assert "CO read too low" in text
    assert RULE in text
    assert "everybody out" in text


def test_each_channel_is_drawn_and_stands_as_a_table_too(low, technician_client, page):
    text = page(technician_client, low)
    for title in ("CO, ppm", "O2, %", "Stack temperature, °F", "Air temperature, °F"):
        assert f"<title>{title}: shown against true</title>" in text
        assert f'aria-label="{title}, as a table"' in text


def test_what_cannot_be_told_is_said(demo_visit, technician_client, page):
    text = page(technician_client, demo_visit("leak-or-zero"))
    assert "Whether room air leaks in or the oxygen cell&#x27;s zero is off could not be told." in text


def test_a_cell_that_does_not_answer_has_no_picture(demo_visit, technician_client, page):
    text = page(technician_client, demo_visit("co-cell-dead"))
    assert "its readings say nothing" in text
    assert "<title>CO, ppm: shown against true</title>" not in text
    assert "<title>O2, %: shown against true</title>" in text


def test_temperatures_stand_in_the_persons_unit(low, technician_client, people, page):
    people["technician"].temperature_unit = "degC"
    people["technician"].save()
    text = page(technician_client, low)
    assert "Stack temperature, °C: shown against true" in text
    assert "°F" not in text.split("<main")[1].split("log-head")[0]


def test_an_analyzer_without_a_visit_says_that_nothing_can_be_said(analyzer, shop, technician_client):
    answer = technician_client.get(reverse("impact:analyzer", args=[analyzer.pk]))
    assert answer.status_code == 200
    assert "no visit yet in which it was measured as found" in answer.content.decode()


def test_the_address_of_a_visit_leads_to_its_analyzer_with_the_visit_chosen(low, technician_client):
    answer = technician_client.get(reverse("impact:visit", args=[low.pk]))
    assert answer["Location"] == f"{reverse('impact:analyzer', args=[low.job.analyzer_id])}?visit={low.pk}"


@pytest.mark.parametrize("visit", ["999999", "x", "1" * 30, "-1"])
def test_a_visit_that_is_not_there_is_not_found(low, technician_client, visit):
    address = reverse("impact:analyzer", args=[low.job.analyzer_id])
    assert technician_client.get(address, {"visit": visit}).status_code == 404


def test_a_visit_of_another_analyzer_is_not_found(low, demo_visit, technician_client):
    other = demo_visit("healthy")
    address = reverse("impact:analyzer", args=[low.job.analyzer_id])
    assert technician_client.get(address, {"visit": other.pk}).status_code == 404


def test_an_owner_sees_only_their_own_analyzers(low, demo_visit, stranger_firm, owner_client, page):
    other = demo_visit("healthy", whose=stranger_firm)
    assert RULE in page(owner_client, low)
    assert owner_client.get(reverse("impact:analyzer", args=[other.job.analyzer_id])).status_code == 404
    assert owner_client.get(reverse("impact:visit", args=[other.pk])).status_code == 404


def test_what_an_analyzer_was_under_its_owner_before_stays_with_that_one(low, stranger_firm, owner_client, people):
    low.job.owner = stranger_firm
    low.job.save()
    answer = owner_client.get(reverse("impact:analyzer", args=[low.job.analyzer_id]))
    assert "no visit yet in which it was measured as found" in answer.content.decode()


def test_a_stranger_signs_in_first_and_nothing_is_posted_to_the_page(low, client_of, technician_client):
    address = reverse("impact:analyzer", args=[low.job.analyzer_id])
    assert client_of("stranger").get(address)["Location"].startswith(reverse("frame:login"))
    assert technician_client.post(address).status_code == 405
    assert technician_client.post(reverse("impact:visit", args=[low.pk])).status_code == 405
