"""Who a box can be of: with probability and reasons, while the clues are being typed."""

import pytest
from django.urls import reverse

from flueproof.shop.arrivals.forms import CluesForm
from flueproof.shop.records.models import Analyzer, Arrival


def ranked(client, box, **clues):
    return client.get(reverse("arrivals:ranked", args=[box.pk]), clues).content.decode()


def test_candidates_appear_with_probability_in_words_figure_and_bar_and_with_reasons(counter_client, unknown, awaited):
    page = ranked(counter_client, unknown, serial="O5-20417", name="Tidewater Heating")
    assert f'value="analyzer-{awaited.analyzer_id}"' in page
    assert 'data-key="1"' in page
    assert "%</span>" in page
    assert "<progress" in page
    assert "Open job J-2026-00050" in page
    assert 'class="for"' in page


def test_the_stranger_is_always_shown(counter_client, unknown, analyzer):
    assert "Nobody on file" in ranked(counter_client, unknown, serial="ZZZ-1", name="Quillfeather")
    assert "Nobody on file" in ranked(counter_client, unknown, serial="O5-20417")


def test_what_is_typed_is_escaped_and_odd_text_is_no_trouble(counter_client, unknown, analyzer):
    page = ranked(counter_client, unknown, name="<script>alert(1)</script>", serial="?*?\0", phone="'; --")
    assert "<script>" not in page


ODD = {
    "very long": "O5-" + "7" * 10_000,
    "stars": "A*" * 5000,
    "control characters": "O5\x1b[2J\x07-20\x00417\r\n",
    "turned around": "\u202eO5-20417\u2066",
    "from right to left": "\u05e9\u05dc\u05d5\u05dd \u062e\u062f\u0645\u0629",
    "no letters": "\U0001f600" * 300,
    "half a pair": "\udcff",
}


@pytest.mark.parametrize("what", ODD)
def test_odd_text_in_every_field_is_answered(counter_client, unknown, analyzer, what):
    text = ODD[what].encode("utf-8", "replace").decode()
    page = ranked(counter_client, unknown, **dict.fromkeys(CluesForm.base_fields, text))
    assert "Nobody on file" in page
    assert "\u202e" not in page
    assert "\x1b" not in page


def test_what_nobody_sees_is_not_in_the_clues(counter_client, unknown, awaited):
    page = ranked(counter_client, unknown, serial=ODD["turned around"], name="Tide\u00adwater\x07 Heating")
    assert "serial O5-20417, as on file" in page
    assert "their name" in page


def test_the_page_keeps_the_clues_of_the_box(counter_client, unknown):
    page = counter_client.get(reverse("arrivals:box", args=[unknown.pk])).content.decode()
    assert 'value="O5-2?417"' in page


def test_a_known_box_shows_what_is_in_it(counter_client, known):
    answer = counter_client.get(reverse("arrivals:box", args=[known.pk]))
    assert answer["Location"] == reverse("arrivals:condition", args=[known.pk])


def test_a_candidate_that_was_reported_missing_says_so(counter_client, unknown, analyzer):
    analyzer.whereabouts = "stolen"
    analyzer.save()
    assert "reported stolen" in ranked(counter_client, unknown, serial="O5-20417")


def test_a_box_that_is_not_there_is_not_found(counter_client, shop):
    assert counter_client.get(reverse("arrivals:box", args=[77])).status_code == 404
    assert counter_client.get(f"/boxes/{2**70}").status_code == 404


def test_a_struck_box_shows_why(counter_client, unknown):
    Arrival.objects.filter(pk=unknown.pk)
    unknown.state, unknown.note = "mistake", "Entered by mistake: scanned twice"
    unknown.save()
    assert "scanned twice" in counter_client.get(reverse("arrivals:box", args=[unknown.pk])).content.decode()


def test_nobody_is_named_where_nothing_is_on_file(counter_client, unknown):
    Analyzer.objects.all()
    assert "Nobody on file fits" in ranked(counter_client, unknown, serial="QQ-1")
