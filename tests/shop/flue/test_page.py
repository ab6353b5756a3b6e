"""The flue page: every figure by its form, with its basis and uncertainty; the address carries what was asked."""

import random
import re

import pytest
from django.urls import reverse

from flueproof.shop.records.people.rights import ROLES


def figure(text, name):
    """Return number and uncertainty of a large figure."""
    found = re.search(rf'<dt>{re.escape(name)}</dt><dd class="figure">(\S+) .*?± (\S+?)</span>', text, re.DOTALL)
    assert found, name
    return found.groups()


def row(text, name):
    """Return the cells of a row of the tables, without tags."""
    found = next(one for one in re.findall(r"<tr>(<th scope=.row.>.*?)</tr>", text, re.DOTALL) if f">{name}<" in one)
    return re.sub(r"<[^>]+>", " ", found)


def test_the_published_case_of_natural_gas_at_5_percent(flue):
    """Reference sheet, sections 1 to 3, natural gas US-type blend at 5 % O2, 200/20 degC, CO 100 ppm."""
    status, text = flue()
    assert status == 200
    assert figure(text, "CO2")[0] == "9.08"
    assert figure(text, "Excess air, exact")[0] == "28.2"
    assert figure(text, "Efficiency, net (LHV)")[0] == "90.96"
    assert figure(text, "Efficiency, gross (HHV)")[0].startswith("82.0")
    assert float(figure(text, "Dew point")[0]) == pytest.approx(54.1, abs=0.05)
    assert figure(text, "CO air-free")[0] == "131"
    assert "31.4" in row(text, "Excess air, simple form")


def test_each_figure_says_its_basis(flue):
    _, text = flue()
    for words in ("net heating value (LHV)", "gross heating value (HHV)", "20.946 % O2", "20.9 % O2", "21 % O2", "dry"):
        assert words in text


def test_what_is_assumed_of_a_reading_is_said_and_what_was_typed_takes_its_place(flue):
    _, assumed = flue()
    _, typed = flue(u_o2="0.1", u_co="2", u_stack="1", u_air="1")
    assert assumed.count("<b>assumed</b>") == 4
    assert "<b>assumed</b>" not in typed
    assert float(figure(typed, "CO2")[1]) < float(figure(assumed, "CO2")[1])


def test_an_address_without_values_shows_an_example_in_the_units_of_the_person(technician_client, people, shop):
    person = people["technician"]
    for unit, stack in (("degF", "392"), ("degC", "200")):
        person.temperature_unit = unit
        person.save()
        text = technician_client.get(reverse("flue:page")).content.decode()
        assert f'name="stack" id="flue_stack" value="{stack}"' in text


def test_a_link_from_someone_with_other_units_keeps_its_values(technician_client, people, shop, flue):
    people["technician"].temperature_unit = "degF"
    people["technician"].save()
    _, text = flue(unit="degC")
    assert 'name="unit" value="degC"' in text
    assert 'value="200"' in text


def test_the_same_reading_in_fahrenheit_gives_the_same_efficiency(flue):
    _, celsius = flue()
    _, fahrenheit = flue(unit="degF", stack="392", air="68")
    assert figure(celsius, "Efficiency, net (LHV)") == figure(fahrenheit, "Efficiency, net (LHV)")
    assert float(figure(fahrenheit, "Dew point")[0]) == pytest.approx(129.3, abs=0.1)


def test_htmx_gets_the_panel_and_the_messages_of_each_field(flue):
    status, text = flue(htmx=True)
    assert status == 200
    assert text.lstrip().startswith('<div class="flue-panel" id="panel">')
    assert "<html" not in text
    assert 'id="flue_o2_wrong" hx-swap-oob="true"' in text
    assert 'id="flue-rooms"' in text


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"o2": "five"}, "is no number"),
        ({"o2": "NaN"}, "is no number"),
        ({"o2": ""}, "Type a number here"),
        ({"o2": "22"}, "lies outside"),
        ({"o2": "-3"}, "lies outside"),
        ({"stack": "20"}, "not hotter than the air"),
        ({"stack": "5000"}, "lies outside"),
        ({"air": "-200"}, "lies outside"),
        ({"co": "-400"}, "lies outside"),
        ({"u_o2": "-1"}, "lies outside"),
        ({"humidity": "120"}, "lies outside"),
        ({"altitude": "9000"}, "lies outside"),
        ({"reference_o2": "20"}, "lies outside"),
        ({"fuel": "hydrogen-of-nowhere"}, "not one of the available choices"),
        ({"by_o2": "many", "view": "errors"}, "is no number"),
    ],
)
@pytest.mark.parametrize("htmx", [False, True])
def test_what_cannot_be_is_refused_where_it_was_typed_and_kept(flue, given, said, htmx):
    status, text = flue(htmx=htmx, **given)
    assert status == 422
    assert said in text
    assert "Nothing is computed" in text
    assert '<dd class="figure">' not in text
    value = next(iter(given.values()))
    if not htmx and value and "fuel" not in given:
        assert f'value="{value}"' in text


def test_a_decimal_comma_is_understood(flue):
    assert figure(flue(o2="5,0")[1], "CO2")[0] == "9.08"


def test_what_was_typed_cannot_become_markup(flue):
    _, text = flue(o2='"><script>x</script>')
    assert "<script>x" not in text


def test_near_room_air_the_core_doubts_and_then_refuses(flue):
    _, doubtful = flue(o2="16")
    assert "O2 above 15 %" in doubtful
    assert ", doubtful" in doubtful
    status, refused = flue(o2="18.5")
    assert status == 200
    assert "below 18 % can be computed with" in refused
    assert '<dd class="figure">' not in refused


def test_without_co_there_is_no_figure_of_co(flue):
    _, text = flue(co="")
    assert "CO air-free" not in text[text.index('id="panel"') :]
    assert figure(text, "CO2")[0] == "9.08"


def test_a_stack_below_the_dew_point_is_counted_with_condensation_and_the_other_forms_say_so(flue):
    _, text = flue(o2="3", stack="40", fuel="methane")
    assert "water condenses" in text
    assert float(figure(text, "Efficiency, net (LHV)")[0]) == pytest.approx(105.6, abs=0.1)
    assert float(figure(text, "Efficiency, gross (HHV)")[0]) == pytest.approx(95.2, abs=0.1)
    assert text.count("Knows no condensation") == 4
    assert "may pass 100 %" in text


def test_a_stack_beyond_the_heat_loss_method_leaves_that_form_out_alone(flue):
    _, text = flue(stack="400")
    assert "outside the range of this form" in row(text, "Heat-loss method, gross (HHV)")
    assert figure(text, "Efficiency, net (LHV)")[0] != "–"


def test_a_solid_fuel_has_no_german_form(flue):
    _, text = flue(fuel="wood-pellets")
    assert "German form, net" not in text
    assert "Exact balance, net" in text


def test_height_and_humidity_move_the_dew_point(flue):
    dry = float(figure(flue()[1], "Dew point")[0])
    assert float(figure(flue(humidity="60")[1], "Dew point")[0]) > dry
    assert float(figure(flue(altitude="1500")[1], "Dew point")[0]) < dry
    feet = flue(altitude="4921.26", unit="degF", stack="392", air="68")[1]
    assert "846 <span" in feet
    assert "846 <span" in flue(altitude="1500")[1]


def test_each_curve_is_a_picture_with_a_name_and_a_table(flue):
    _, text = flue()
    assert text.count('role="img"') == 5
    assert text.count("As a table") == 5
    assert "The dot stands at 5 %" in text


def test_an_analyzer_that_reads_negative_co_is_taken_as_it_shows_it(flue):
    status, text = flue(co="-3")
    assert status == 200
    assert figure(text, "CO air-free")[0].startswith("−")


def test_the_cautions_stand_on_every_answer(flue):
    for values in ({}, {"view": "errors"}, {"o2": "nothing"}, {"o2": "19"}):
        _, text = flue(**values)
        assert "A CO alarm means: everybody out, then call for help." in text
        assert "Local codes and licensed practice decide" in text
        assert "declares no appliance safe" in text


@pytest.mark.parametrize("role", ROLES)
def test_everybody_of_the_shop_and_owners_may_look(client_of, shop, role):
    assert client_of(role).get(reverse("flue:page")).status_code == 200


def test_a_stranger_signs_in_first_and_nothing_is_taken_by_post(client, technician_client, shop):
    assert client.get(reverse("flue:page")).status_code == 302
    assert technician_client.post(reverse("flue:page")).status_code == 405


def test_the_page_in_the_other_unit_shows_the_same_figures(flue, technician_client):
    _, celsius = flue(u_stack="2.5", altitude="1500", by_stack="10", air_stands="0")
    link = re.search(r'id="flue-unit" href="([^"]+)"[^>]*>In °F<', celsius).group(1).replace("&amp;", "&")
    fahrenheit = technician_client.get(reverse("flue:page") + link).content.decode()
    for name, value in (("stack", "392"), ("air", "68"), ("u_stack", "4.5"), ("altitude", "4921")):
        assert re.search(rf'name="{name}" [^>]*value="{value}"', fahrenheit), name
    assert "air_stands=32&amp;" in fahrenheit or "air_stands=32" in fahrenheit
    assert figure(fahrenheit, "Efficiency, net (LHV)") == figure(celsius, "Efficiency, net (LHV)")
    assert "In °C" in fahrenheit


def test_a_field_without_a_number_stays_as_it_is_in_the_other_unit(flue):
    _, text = flue(stack="hot")
    assert "stack=hot" in re.search(r'id="flue-unit" href="([^"]+)"', text).group(1)


def test_room_air_that_may_be_in_the_sample_widens_what_hangs_on_o2_and_cancels_in_co_air_free(flue):
    _, tight = flue()
    _, leaky = flue(leak_share="5")
    assert figure(leaky, "CO air-free") == figure(tight, "CO air-free")
    for name in ("Excess air, exact", "CO2", "Efficiency, net (LHV)"):
        assert float(figure(leaky, name)[1]) > 1.5 * float(figure(tight, name)[1])
    assert "common to O2 and CO" in leaky
    assert flue(leak_share="60")[0] == 422


def test_a_view_or_unit_that_is_not_known_is_the_usual_one(flue):
    status, text = flue(view="sideways", unit="K")
    assert status == 200
    assert 'name="view" value="figures"' in text
    assert 'name="unit" value="degF"' in text


@pytest.mark.parametrize("seed", range(4))
def test_any_address_is_answered_whatever_stands_in_it(flue, seed):
    """Nothing typed may end in a fault of the program: figures, a refusal of the core, or a message at a field."""
    draw = random.Random(seed)  # noqa: S311 -- no secret
    odd = ("", "0", "-0", "nan", "inf", "1e400", "−3", "1,5", "x", "١", "20.946", "17.999", "18", "1400", "\x00", "<b>")
    names = ("o2", "stack", "air", "co", "u_o2", "u_co", "humidity", "altitude", "leak_share", "reference_o2", "by_o2")
    for _ in range(6):
        given = {name: draw.choice(odd) for name in draw.sample(names, 3)}
        status, text = flue(view=draw.choice(("figures", "errors")), htmx=True, **given)
        assert status in {200, 422}
        assert "declares no appliance safe" in text
