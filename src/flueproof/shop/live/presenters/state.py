"""All that changes on a page that watches a visit, as one JSON object: for the stream and for polling alike."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.template.loader import render_to_string

from flueproof.shop.live.presenters.panel import Panel, news_key, on_for_ms, panel_of
from flueproof.shop.records.models import Application, Visit
from flueproof.shop.records.visits.applications import running
from flueproof.shop.records.visits.made_once import made_once

_SECONDS = 60


def state_of(visit_pk: int, now: datetime, *, large: bool = False) -> dict[str, Any]:
    """Return {"key", "running", "on_for_ms", "enough", "captured", "html", "cells"}.

    large: as the second screen shows it; key: the same as long as nothing is new. All but the time is made once for
    each news, whoever asks and however many do.
    """
    application = running(Visit(pk=visit_pk))
    if application is None:
        last = Visit(pk=visit_pk).applications.order_by("-id").values_list("pk", "ended").first()
        return {
            "key": f"ended-{last}",
            "running": None,
            "enough": False,
            "captured": False,
            "html": "",
            "cells": [],
            "on_for_ms": None,
        }
    key = news_key(application)
    name = f"live-state-{application.pk}-{large}"
    drawn = made_once(name, key, lambda: _drawn(application, now, large=large), _SECONDS)
    return {**drawn, "key": key, "on_for_ms": on_for_ms(application, now)}


def _drawn(application: Application, now: datetime, *, large: bool) -> dict[str, Any]:
    panel = panel_of(application, now, large=large)
    return {
        "running": application.pk,
        "enough": panel.enough,
        "captured": panel.captured,
        "html": render_to_string("live/trace.html", {"panel": panel, "large": large}),
        "cells": _cells(panel),
    }


def _cells(panel: Panel) -> list[dict[str, Any]]:
    return [
        {"channel": cell.channel, "mark": cell.mark_s, "value": cell.value, "words": cell.words, "photo": cell.photo}
        for row in panel.rows
        for cell in row.cells
        if cell.value or cell.photo
    ]
