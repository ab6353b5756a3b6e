"""What the gauge shows corrects the litres."""

import pytest
from django.urls import reverse

from flueproof.shop.frame.forms.pressure import PressureField, gauge_text


def there():
    return reverse("gas_rack:gauge", args=["CYL-0007"])


def test_a_gauge_reading_in_psi_is_kept_in_kpa(technician_client, bottle):
    answer = technician_client.post(there(), {"gauge": "1,000 psi", "room": "70"})
    kept = bottle.gauge_readings.get()
    assert answer.status_code == 302
    assert kept.kpa == pytest.approx(6894.757, abs=0.05)  # NIST SP 811, Appendix B.8
    assert kept.room_c == pytest.approx(21.111, abs=1e-3)
    assert kept.by.username == "technician"


def test_a_second_press_keeps_one_reading(technician_client, bottle):
    for _ in range(2):
        technician_client.post(there(), {"gauge": "5000 kPa", "room": "70"})
    assert bottle.gauge_readings.count() == 1


@pytest.mark.parametrize(
    ("gauge", "room", "words"),
    [
        ("many", "70", "as a number with its unit"),
        ("10 atm", "70", "as a number with its unit"),
        ("", "70", "required"),
        ("9999999", "70", "Read the gauge and unit again"),
        ("1000", "700", "cannot be the temperature"),
        ("1,00", "70", "as a number with its unit"),
    ],
)
def test_bad_input_is_told_and_what_was_typed_is_kept(technician_client, bottle, gauge, room, words):
    answer = technician_client.post(there(), {"gauge": gauge, "room": room})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert not bottle.gauge_readings.exists()
    assert f'value="{gauge}"' in page or not gauge


def test_a_gauge_below_the_lowest_pressure_empties_the_bottle(technician_client, bottle):
    technician_client.post(there(), {"gauge": "50 psi", "room": "70"})
    bottle.refresh_from_db()
    assert bottle.state == "empty"


@pytest.mark.parametrize(
    ("typed", "kpa"), [("2000 psi", 13789.5), ("138 bar", 13800.0), ("13.8 MPa", 13800.0), ("690", 690.0)]
)
def test_pressures_are_read_with_their_unit(typed, kpa):
    assert PressureField(unit="kPa").clean(typed) == pytest.approx(kpa, abs=0.1)


def test_a_stored_pressure_comes_back_as_it_was():
    field = PressureField(unit="psi")
    assert field.clean(field.prepare_value(13800.0)) == 13800.0


def test_the_shops_unit_is_used(shop):
    assert gauge_text(6894.757, shop) == "1,000 psi"
    shop.paper_units = "si"
    assert gauge_text(6894.757, shop) == "6,895 kPa"
