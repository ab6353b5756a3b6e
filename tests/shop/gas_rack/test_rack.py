"""The rack as a picture, and finding a bottle."""

import datetime as dt

from django.urls import reverse

from flueproof.shop.gas_rack.presenters.drawing import bottle_drawing
from shop.cylinders import gas_content, make_cylinder, make_instrument


def text(client):
    return client.get(reverse("gas_rack:rack")).content.decode()


def day(back):
    return (dt.date(2026, 11, 25) - dt.timedelta(days=back)).isoformat()


def test_an_empty_rack_says_what_to_do(manager_client, shop):
    assert "No bottle yet" in text(manager_client)


def test_each_bottle_says_its_gas_uncertainty_tests_and_money(technician_client, bottle):
    page = text(technician_client)
    for words in ("CYL-0007", "502 ppm", "U = 5 ppm (k = 2)", "nitrogen", "376", "tests left", "0.64", "psi"):
        assert words in page


def test_what_is_wrong_is_said_in_words(technician_client, shop):
    make_cylinder("OLD", content=gas_content(expires=day(1)))
    make_cylinder("SOON", content=gas_content(expires=day(-20)))
    make_cylinder("EMPTY", state="empty")
    make_cylinder("NEW", state="new")
    make_cylinder("GONE", state="withdrawn", withdrawn_why="recalled")
    make_instrument(due=day(3))
    page = text(technician_client)
    for words in ("Expired.", "Expires soon.", "Empty.", "New.", "Overdue.", "Withdrawn: 1", "recalled"):
        assert words in page


def test_the_morning_check_is_asked_for_until_it_is_done(technician_client, bottle):
    assert "is not done yet" in text(technician_client)


def test_the_level_in_the_drawing_falls_with_the_gas():
    full = bottle_drawing(1.0, tone="good", name="1")
    low = bottle_drawing(0.1, tone="good", name="1")
    assert 'y="46"' in full
    assert 'y="157.6"' in low
    assert "?" in bottle_drawing(None, tone="good", name="1")


def test_a_scan_opens_the_bottle(technician_client, bottle):
    answer = technician_client.get(reverse("gas_rack:find"), {"code": "cyl-0007"})
    assert answer["Location"] == reverse("gas_rack:reference", args=["CYL-0007"])


def test_an_unknown_scan_says_so_and_stays(technician_client, bottle):
    answer = technician_client.get(reverse("gas_rack:find"), {"code": "CYL-9"}, follow=True)
    assert "No reference has the code CYL-9" in answer.content.decode()
    answer = technician_client.get(reverse("gas_rack:find"), {"code": " "}, follow=True)
    assert "Scan or type a code." in answer.content.decode()


def test_a_name_from_outside_cannot_become_markup(technician_client, shop):
    make_cylinder("X1", title="<script>alert(1)</script>")
    assert "<script>alert" not in text(technician_client)


def test_twenty_bottles_need_no_more_than_a_few_queries_each(technician_client, shop, django_assert_max_num_queries):
    for number in range(20):
        make_cylinder(f"C-{number}")
    with django_assert_max_num_queries(20 * 4 + 15):
        text(technician_client)
