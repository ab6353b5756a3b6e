"""Cylinders and instruments of an invented rack."""

import datetime as dt
from decimal import Decimal

from flueproof.shop.records.models import Analyzer, Reference


def gas_content(**changes):
    """A certificate of 502 ppm CO in nitrogen, with changes."""
    return {
        "kind": "test-gas",
        "supplier": "Gas House (invented)",
        "number": "C-7731",
        "lot": "L-20",
        "certificate": "LN-88213",
        "balance": "nitrogen",
        "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}},
        "certified": "2026-02-01",
        "expires": "2028-02-01",
        **changes,
    }


def make_cylinder(code, *, state="in-use", content=None, **fields):
    """Keep a cylinder of 8 L filled to 13,800 kPa for 240.00."""
    content = content or gas_content(number=code)
    given = {
        "title": "CO 500 in nitrogen",
        "good_until": dt.date.fromisoformat(content["expires"]),
        "water_volume_l": 8.0,
        "fill_kpa": 13_800.0,
        "price": Decimal("240.00"),
        "place": "rack 1",
        **fields,
    }
    return Reference.objects.create(code=code, kind="test-gas", content=content, state=state, **given)


def make_instrument(code="THERM-1", kind="thermometer", unit="degC", due="2027-05-01", state="in-use"):
    """Keep a thermometer or manometer."""
    content = {"kind": kind, "certificate": "T-1190", "unit": unit, "expanded_uncertainty": 0.3, "k": 2.0, "due": due}
    return Reference.objects.create(
        code=code,
        kind=kind,
        title=f"Reference {kind}",
        content=content,
        state=state,
        good_until=dt.date.fromisoformat(due),
    )


def make_control_unit(owner):
    """Keep the shop's own control analyzer."""
    return Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="CTRL-1", control_unit=True)
