"""What the page of one reference shows."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Final

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.bench.judge.gas_on_record import blend_of, certificate_of, state_on
from flueproof.bench.record.references import TestGas
from flueproof.shop.frame.forms.pressure import gauge_text
from flueproof.shop.gas_rack.presenters.bottle import bottle_of, instrument_of, kind_in_words
from flueproof.shop.gas_rack.presenters.chart import chart_of
from flueproof.shop.records.gas.admitting import condition_of
from flueproof.shop.records.gas.as_certified import certified
from flueproof.shop.records.gas.control import channels_for, control_units
from flueproof.shop.records.gas.litres import cost_of
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.models import Reference
from flueproof.testgas.cautions import handling_cautions

MOST_USES: Final = 50


def reference_context(row: Reference, now: datetime, day: date, shop: Any) -> dict[str, Any]:
    """Return all that the page of a reference prints."""
    content = certified(row.content)
    context: dict[str, Any] = {
        "reference": row,
        "content": content,
        "kind": kind_in_words(row.kind),
        "is_gas": isinstance(content, TestGas),
        "documents": row.documents.select_related("blob").defer("blob__content"),
        "history": history_lines(row, ("documents",)),
        "condition": condition_of(row, day),
    }
    if isinstance(content, TestGas):
        context |= _gas(row, content, now, day, shop)
    else:
        context["instrument"] = instrument_of(row, day)
        context["standing"] = context["instrument"].standing
    return context


def _gas(row: Reference, gas: TestGas, now: datetime, day: date, shop: Any) -> dict[str, Any]:
    blend, state = blend_of(gas), state_on(gas, day)
    bottle = bottle_of(row, now, day, shop)
    uses = row.uses.select_related("application__visit__job").order_by("-id")[:MOST_USES]
    gauges = row.gauge_readings.select_related("by").order_by("-id")[:MOST_USES]
    return {
        "bottle": bottle,
        "standing": bottle.standing,
        "certificate": certificate_of(gas).in_words(),
        "cautions": handling_cautions(blend) if blend is not None else (),
        "limits_of_use": blend.cautions_of_use() if blend is not None else (),
        "warnings": state.warnings if state is not None else (),
        "uses": [{"use": one, "litres": f"{one.litres:.1f} L", "cost": cost_of(row, one.litres)} for one in uses],
        "gauges": [{"reading": one, "shows": gauge_text(one.kpa, shop)} for one in gauges],
        "fill": gauge_text(row.fill_kpa, shop),
        "minimum": gauge_text(row.minimum_kpa, shop),
        "charts": _charts(row),
        "checks": row.span_checks.select_related("compared_with", "analyzer", "by").order_by("-id")[:MOST_USES],
    }


def _charts(row: Reference) -> list[Any]:
    charts = []
    for unit in control_units():
        for channel in channels_for(row, shipped_profile(unit.profile)):
            chart = chart_of(unit, channel.name, channel.title, row.code)
            if chart is not None:
                charts.append(chart)
    return charts
