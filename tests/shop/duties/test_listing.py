"""The duty list."""

from django.urls import reverse


def test_a_call_of_the_day_stands_first_and_large(manager_client, low, outside):
    page = manager_client.get(reverse("duties:list")).content.decode()
    assert page.index("Call today") < page.index("Others, by day")
    assert "555-0100" in page
    assert "It never clears an appliance" in page
    assert reverse("duties:tag", args=[low.pk]) in page


def test_the_page_of_a_duty_shows_words_picture_and_acts(manager_client, low):
    page = manager_client.get(reverse("duties:duty", args=[low.pk])).content.decode()
    assert "shown-true" in page
    assert "What to say" in page


def test_a_wrong_bottle_has_its_page(manager_client, judged_again):
    page = manager_client.get(reverse("duties:finding", args=[judged_again.pk])).content.decode()
    assert "All 1 visit judged again" in page
