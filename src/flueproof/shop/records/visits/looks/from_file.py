"""Readings of a running measurement from a logger's file."""

from __future__ import annotations

import hashlib
import math
from datetime import datetime, timedelta

from django.db import transaction

from flueproof.analyzer.errors import UnitError
from flueproof.analyzer.units import difference_from_core
from flueproof.readings.csv_import import CsvTrace, read_trace_csv
from flueproof.shop.records.models import Application, Reading
from flueproof.shop.records.visits.applications import ApplicationError, mark_gas_on
from flueproof.shop.records.visits.looks.of_application import FILED
from flueproof.shop.records.visits.news.waking import tell_watchers

LARGEST_FILE = 8 * 2**20
MOST_LOOKS = 20_000


def take_file(application: Application, content: bytes, gas_on_s: float, now: datetime) -> dict[str, int]:
    """Store a file's looks at the channels of the plan and return how many of each; the same file again adds nothing.

    gas_on_s: when gas came on, from the file's first row [s]. Where the timer has not been started, it starts then.
    Raises: TraceFileError (row, column, what to do), ApplicationError; nothing is written then.
    """
    if len(content) > LARGEST_FILE:
        raise ApplicationError(f"The file has {len(content) / 2**20:.0f} MB; give one of at most 8 MB.")
    if not math.isfinite(gas_on_s) or gas_on_s < 0.0:
        raise ApplicationError("When the gas came on is missing: give the seconds from the file's first row.")
    traces = _of_plan(application, read_trace_csv(content))
    if sum(len(one.shown) for one in traces.values()) > MOST_LOOKS:
        raise ApplicationError(f"The file holds more than {MOST_LOOKS} looks; cut out the minutes on gas.")
    source = f"{FILED}{application.pk}:{hashlib.sha256(content).hexdigest()[:24]}"
    with transaction.atomic():
        locked: Application = Application.objects.select_for_update().get(pk=application.pk)
        if locked.ended_at is not None:
            raise ApplicationError("This step has ended; begin a new one for a file.")
        if locked.gas_on_at is None:
            mark_gas_on(locked, locked.began_at + timedelta(seconds=gas_on_s))
        application.gas_on_at = locked.gas_on_at
        rows = _rows(locked, traces, source, gas_on_s, now)
        Reading.objects.bulk_create(rows, ignore_conflicts=True, batch_size=500)
        tell_watchers(locked.visit_id)
    return {name: len(one.shown) for name, one in traces.items()}


def _of_plan(application: Application, traces: tuple[CsvTrace, ...]) -> dict[str, CsvTrace]:
    """Return the traces by channel of the plan: by name, or by a name that begins like it (`co_ppm`)."""
    found: dict[str, CsvTrace] = {}
    for planned in application.plan["channels"]:
        name = planned["channel"]
        alike = [one for one in traces if one.name.lower() == name] or [
            one for one in traces if one.name.lower().replace(" ", "_").startswith(f"{name}_")
        ]
        if len(alike) == 1:
            _refuse_unit(alike[0], planned["unit"])
            found[name] = alike[0]
    if not found:
        there = ", ".join(one.name for one in traces)
        wanted = ", ".join(one["channel"] for one in application.plan["channels"])
        raise ApplicationError(f"The file holds {there}, none of them is measured here ({wanted}). Rename the column.")
    return found


def _refuse_unit(trace: CsvTrace, unit: str) -> None:
    if trace.unit in {None, unit}:
        return
    try:
        difference_from_core(1.0, str(trace.unit), unit)
    except UnitError:
        raise ApplicationError(f"The file gives {trace.name} in {trace.unit}, which is no unit for it.") from None


def _rows(
    application: Application, traces: dict[str, CsvTrace], source: str, gas_on_s: float, now: datetime
) -> list[Reading]:
    on = application.gas_on_at or application.began_at
    steps = {one["channel"]: (one["unit"], one["step"]) for one in application.plan["channels"]}
    rows: list[Reading] = []
    for name, trace in traces.items():
        unit, step = steps[name]
        for at, shown in zip(trace.times_s, trace.shown, strict=True):
            moment = on + timedelta(seconds=at - gas_on_s)
            rows.append(
                Reading(
                    application=application,
                    source=source,
                    sequence=len(rows) + 1,
                    at=moment,
                    received_at=now,
                    t_s=(moment - application.began_at).total_seconds(),
                    channel=name,
                    unit=trace.unit or unit,
                    step=trace.looks.step or step,
                    shown=shown,
                )
            )
    return rows
