"""Expiry and certificates."""

from datetime import date

import pytest

from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.certificate import GasCertificate
from flueproof.testgas.errors import BlendError
from flueproof.testgas.expiry import expiry_state, shortest_period, years_later

BLEND = Blend({"co": GasComponent.from_expanded("co", "ppm", 502.0, 5.0)}, "nitrogen")


def state(expires, day=date(2026, 11, 3), certified=date(2026, 2, 1)):
    return expiry_state(GasCertificate("LN-1", certified, expires), BLEND, day)


def test_the_last_good_day_is_the_date_itself():
    assert state(date(2026, 11, 3)).state == "expires-soon"
    assert state(date(2026, 11, 3)).usable
    assert state(date(2026, 11, 2)).state == "expired"
    assert not state(date(2026, 11, 2)).usable
    assert state(date(2028, 2, 1)).state == "in-date"
    assert state(date(2028, 2, 1)).days_left == 455


def test_no_date_and_not_yet_certified_cannot_be_signed_on():
    assert (state(None).state, state(None).usable) == ("no-date", False)
    assert state(date(2030, 1, 1), day=date(2025, 1, 1)).state == "not-yet"


def test_a_certificate_longer_than_the_published_period_warns_but_rules():
    result = state(date(2036, 2, 1))
    assert result.usable
    assert "longer than the 8 years for CO" in result.warnings[0]
    assert "Older than the 8 years" in state(None, day=date(2035, 1, 1)).warnings[1]


def test_a_blend_lasts_as_long_as_its_shortest_part():
    no2 = GasComponent.from_expanded("no2", "ppm", 50.0, 1.0)
    assert shortest_period(Blend({**BLEND.components, "no2": no2}, "nitrogen")).years == 3
    h2 = GasComponent.from_expanded("h2", "ppm", 50.0, 1.0)
    assert shortest_period(Blend({"h2": h2}, "nitrogen")) is None


def test_29_february_becomes_the_28th():
    assert years_later(date(2024, 2, 29), 3) == date(2027, 2, 28)
    assert years_later(date(2024, 2, 29), 4) == date(2028, 2, 29)


def test_cans_of_one_lot_share_one_error():
    first = GasCertificate("lot L-81", None, None, cylinder="D-12", lot="L-81", of_lot=True)
    second = GasCertificate("lot L-81", None, None, cylinder="D-13", lot="L-81", of_lot=True)
    own = GasCertificate("LN-1", None, None, cylinder="C-1", lot="L-81")
    assert first.common_cause() == second.common_cause() != own.common_cause()
    assert "this container not analyzed" in first.in_words()
    assert own.in_words() == "certificate LN-1, cylinder C-1"


def test_a_certificate_that_cannot_be_is_refused():
    with pytest.raises(BlendError, match="before it was certified"):
        GasCertificate("X", date(2026, 1, 2), date(2026, 1, 1))
    with pytest.raises(BlendError, match="names none"):
        GasCertificate("X", None, None, of_lot=True)
