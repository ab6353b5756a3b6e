"""One reading at a time: corrected under every course, with uncertainty, by htmx and without scripts."""

import re

from django.urls import reverse

TRUE_5 = {"o2": "5", "co": "80", "stack": "392", "air": "68", "fuel": "natural-gas-us"}


def asked(client, visit, **values):
    address = reverse("impact:analyzer", args=[visit.job.analyzer_id])
    answer = client.get(address, {"visit": visit.pk, **TRUE_5, **values}, HTTP_HX_REQUEST="true")
    return answer.status_code, answer.content.decode()


def cells(text, head):
    """Return the numbers of a row: shown, then value and U of each course."""
    row = re.search(rf'<th scope="row">{head}</th>(.*?)</tr>', text).group(1)
    return [float(one.replace("−", "-")) for one in re.findall(r"[−\d.]+", re.sub(r"<[^>]+>", " ", row))]


def test_co_20_percent_low_shows_105_where_131_was_true(known, technician_client):
    """Section 9 of the team's flue-gas sheet: CO gain -20 % at true 5 % O2 and 100 ppm."""
    status, text = asked(technician_client, known(gain={"co": 0.8}))
    assert status == 200
    shown, full, wide, not_yet, _ = cells(text, "CO air-free, ppm")
    assert shown == 105.2
    assert abs(full - 131.4) <= wide
    assert full - wide > 110
    assert not_yet == 105.2


def test_a_dilution_of_6_percent_leaves_co_air_free_as_it_was(known, technician_client):
    """Section 9 of the sheet: a leak of 6.27 %, O2 6.0 and CO 93.7: CO air-free stays 131.5, excess air does not."""
    status, text = asked(technician_client, known(dilution_probe=0.0627), o2="6.0", co="93.7", excess_air="exact")
    assert status == 200
    shown, full, wide, *_ = cells(text, "CO air-free, ppm")
    assert abs(shown - 131.5) < 0.2
    assert abs(full - shown) <= wide
    excess, corrected, wide, *_ = cells(text, "Excess air, %")
    assert abs(excess - 36.1) < 0.2
    assert abs(corrected - 28.2) <= wide + 0.05


def test_growing_is_told_only_where_a_last_good_day_is_known(low, technician_client):
    assert "grown evenly" not in asked(technician_client, low)[1]
    _, text = asked(technician_client, low, last_good="2026-04-06", day="2026-07-06")
    assert "as if the error had grown evenly since the last good date" in text
    shown, full, _, not_yet, _, growing, _ = cells(text, "CO, ppm")
    assert not_yet < growing < full
    assert shown == 80.0
    assert re.search(r"On that day (49|50) % of an even growth was there", text)


def test_a_day_outside_the_time_in_question_is_said_to_be_so(low, technician_client):
    _, text = asked(technician_client, low, last_good="2026-04-06", day="2025-07-06")
    assert "lies outside the time between the last good date and the day of the finding" in text


def test_the_rule_stands_beside_every_value(low, technician_client):
    assert "It never clears an appliance: test again with a proven analyzer." in asked(technician_client, low)[1]


def test_without_scripts_the_address_alone_gives_the_same(low, technician_client, page):
    text = page(technician_client, low, **TRUE_5)
    assert cells(text, "CO air-free, ppm") == cells(asked(technician_client, low)[1], "CO air-free, ppm")


def test_bad_values_are_named_and_stay_typed(low, technician_client, page):
    for wrong, said in (
        ({"o2": ""}, "Type a number here"),
        ({"o2": "five"}, "“five” is no number"),
        ({"o2": "30"}, "30 lies outside -1 to 25 %"),
        ({"stack": "9999"}, "9999 lies outside -58 to 2192 °F"),
        ({"last_good": "2026-10-20"}, "lies after 2026-10-06"),
        ({"last_good": "2999-01-01"}, "The last good day lies ahead"),
        ({"fuel": "coffee"}, "Select a valid choice"),
    ):
        status, text = asked(technician_client, low, **wrong)
        assert status == 422, wrong
        assert said in text.replace("&#x27;", "'"), wrong
        (name, value) = next(iter(wrong.items()))
        if name != "fuel":
            assert f'value="{value}"' in page(technician_client, low, **{**TRUE_5, **wrong}) or not value


def test_a_decimal_comma_is_understood(low, technician_client):
    assert cells(asked(technician_client, low, o2="5,0")[1], "O2, %")[0] == 5.0


def test_a_dead_cell_gives_a_dash_and_the_words(demo_visit, technician_client):
    _, text = asked(technician_client, demo_visit("co-cell-dead"))
    assert "its readings say nothing, the place is not tested" in text
    assert "–" in re.search(r'<th scope="row">CO, ppm</th>(.*?)</tr>', text).group(1)
