"""What the display computes: typed at one look, held against the known formulas, told on the bench and record page."""

import html
import re

import pytest
from django.urls import reverse

from flueproof.bench.judgement import DisplayedFigures
from flueproof.shop.bench.forms.displayed import fuel_noted, step_of
from flueproof.shop.bench.presenters.displayed import displayed_views
from flueproof.shop.records.visits.judged import judged

GERMAN = {
    "fuel": "natural gas",
    "unit": "degC",
    "o2": "5.3",
    "co": "112",
    "stack": "187",
    "air": "23",
    "co2": "8.9",
    "excess_air": "30",
    "efficiency": "91.6",
    "efficiency_basis": "net",
    "co_air_free": "150",
}
"""An invented display that follows the German formula on natural gas (US blend), rounded."""


@pytest.fixture
def begun(visit, add):
    add("visual", text="Water: none seen in trap and hose.")
    add("note", text="Memory: this unit stores nothing.")
    return visit


@pytest.fixture
def record_it(technician_client, begun, job, page_id):
    """Return a function values -> (status, text) of the form being sent."""

    def send(**values):
        address = reverse("bench:step", args=[job.number, "displayed"])
        answer = technician_client.post(address, {"page": page_id, **values})
        return answer.status_code, html.unescape(answer.content.decode())

    return send


def readings(visit):
    return {one["channel"]: one for one in judged(visit).tree["steps"][-1]["readings"]}


def test_every_figure_is_kept_as_shown_with_the_step_that_its_decimals_say(record_it, begun):
    assert record_it(**GERMAN)[0] == 302
    kept = readings(begun)
    assert kept["fuel"]["shown"] == ["natural gas"]
    assert (kept["O2"]["shown"], kept["O2"]["step"], kept["O2"]["unit"]) == ([5.3], 0.1, "%")
    assert (kept["stack"]["unit"], kept["stack"]["step"]) == ("degC", 1)
    assert kept["efficiency net"]["shown"] == [91.6]
    assert "flue loss" not in kept


def test_what_it_follows_stands_on_the_bench_page_and_on_the_record_page(record_it, technician_client, job):
    record_it(**GERMAN)
    for name in ("visit", "record"):
        text = html.unescape(technician_client.get(reverse(f"bench:{name}", args=[job.number])).content.decode())
        assert "What the display computes, as found" in text
        assert "follows known formulas for natural gas" in text
        assert "German formula from O2, net" in text
        assert "As set" in text


def test_a_wrong_fuel_set_is_named(record_it, technician_client, job):
    record_it(**{**GERMAN, "fuel": "propane"})
    text = html.unescape(technician_client.get(reverse("bench:visit", args=[job.number])).content.decode())
    assert "Look here" in text
    assert "The display does not fit propane; it fits as if" in text
    assert len(re.findall("The display does not fit propane", text)) == 1


def test_nothing_computed_is_refused_and_what_was_typed_is_kept(record_it, begun):
    status, text = record_it(fuel="natural gas", unit="degC", o2="5.3", stack="187", air="23")
    assert status == 422
    assert "Nothing computed is entered" in text
    assert 'value="187"' in text
    assert len(judged(begun).tree["steps"]) == 2


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"fuel": "2"}, "Type the fuel by its name"),
        ({"fuel": "x" * 41}, "at most 40 characters"),
        ({"other_shown": "3"}, "Type what the display calls it"),
        ({"other": "Eta"}, "Type what it shows"),
        ({"other": "CO2", "other_shown": "9", "other_unit": "%"}, "is read twice"),
        ({"efficiency_basis": "both"}, "not one of the available choices"),
        ({"unit": "K"}, "not one of the available choices"),
    ],
)
def test_what_cannot_be_recorded_is_refused_where_it_was_typed(record_it, begun, given, said):
    status, text = record_it(**{**GERMAN, **given})
    assert status == 422
    assert said in text
    assert 'value="91.6"' in text
    assert len(judged(begun).tree["steps"]) == 2


def test_another_figure_is_kept_by_its_own_name(record_it, begun):
    assert record_it(other="Poison index", other_shown="0.0012", unit="degF")[0] == 302
    kept = readings(begun)["Poison index"]
    assert (kept["unit"], kept["shown"], kept["step"]) == ("1", [0.0012], 0.0001)


def test_a_display_that_shows_no_number_is_kept_as_it_stands(record_it, begun):
    assert record_it(**{**GERMAN, "co_air_free": "----"})[0] == 302
    assert readings(begun)["CO air-free"]["shown"] == ["----"]


def test_the_form_begins_with_the_fuel_that_the_settings_named(technician_client, begun, job, add):
    add("settings", as_found={"fuel": "propane"})
    page = technician_client.get(reverse("bench:step", args=[job.number, "displayed"])).content.decode()
    assert re.search(r'name="fuel" value="propane"', page)
    assert "<legend>What it computes</legend>" in page
    assert '<datalist id="fuels-shown">' in page


@pytest.mark.parametrize(
    ("typed", "step"),
    [("5.0", 0.1), ("5,25", 0.01), ("392", 1.0), ("-3", 1.0), ("−3.5", 0.1), ("OVER", 1.0), ("", 1.0), ("5.", 1.0)],
)
def test_the_display_step_follows_from_what_was_typed(typed, step):
    assert step_of(typed) == step


def test_the_last_settings_say_the_fuel():
    steps = [
        {"kind": "settings", "as_found": {"Fuel type": "oil"}, "changed": {"fuel": "gas"}},
        {"kind": "note", "text": "fuel = wood"},
    ]
    assert fuel_noted(steps) == "gas"
    assert fuel_noted([]) == ""


def test_without_a_judgement_or_figures_there_is_nothing_to_tell():
    assert displayed_views(None, "si") == ()


def test_temperatures_of_a_finding_are_told_in_the_persons_unit_and_constants_keep_their_digits():
    class Judged:
        displayed = (
            DisplayedFigures(
                ("d1",), "as-left", None, "air-zero", "methane", 0.0, {}, (),
                ("The display fits with 0 degC as air temperature, air 20.946 % O2.",),
            ),
        )  # fmt: skip

    (one,) = displayed_views(Judged(), "si")
    assert (one.phase, one.standing, one.fuel) == ("As left", "other", "")
    assert one.headline == "The display fits with 0 °C as air temperature, air 20.946 % O2."
    (us,) = displayed_views(Judged(), "us")
    assert us.headline == "The display fits with 32 °F as air temperature, air 20.946 % O2."
