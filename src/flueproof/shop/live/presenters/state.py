"""All that changes on a page that watches a visit, as one JSON object: for the stream and for polling alike."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.core.cache import cache
from django.template.loader import render_to_string

from flueproof.shop.live.presenters.panel import Panel, panel_of
from flueproof.shop.records.models import Visit
from flueproof.shop.records.visits.applications import running

_SECONDS = 60


def state_of(visit_pk: int, now: datetime, *, large: bool = False) -> dict[str, Any]:
    """Return {"key", "running", "on_for_ms", "enough", "html", "cells"}; the drawing is made once for each news.

    large: as the second screen shows it; key: the same as long as nothing is new.
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
    panel = panel_of(application, now, large=large)
    key = f"live-state-{panel.key}-{large}"
    html = cache.get(key)
    if html is None:
        html = render_to_string("live/trace.html", {"panel": panel, "large": large})
        cache.set(key, html, _SECONDS)
    return {
        "key": panel.key,
        "running": application.pk,
        "on_for_ms": panel.on_for_ms,
        "enough": panel.enough,
        "captured": panel.captured,
        "html": html,
        "cells": _cells(panel),
    }


def _cells(panel: Panel) -> list[dict[str, Any]]:
    return [
        {"channel": cell.channel, "mark": cell.mark_s, "value": cell.value, "words": cell.words, "photo": cell.photo}
        for row in panel.rows
        for cell in row.cells
        if cell.value or cell.photo
    ]
