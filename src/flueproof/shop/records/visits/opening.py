"""Opening a visit: the head of the bench record, from the job."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.shop.records.models import Job, Person, Shop, Visit
from flueproof.shop.records.visits.events import append
from flueproof.shop.records.visits.projection import HEAD


def open_visit(job: Job, by: Person, now: datetime, shop: Shop) -> Visit:
    """Return the job's visit, opened with its head event when there is none yet.

    Raises: RecordError when the job's data make no head of a record (nothing is written).
    """
    with transaction.atomic():
        locked = Job.objects.select_for_update().get(pk=job.pk)
        visit: Visit | None = locked.visits.order_by("-number").first()
        if visit is None:
            visit = Visit.objects.create(job=locked, number=1, opened_at=now, opened_by=by, budget_l=shop.gas_budget_l)
            append(visit, HEAD, record_head(locked, shop, now), by, now)
    return visit


def record_head(job: Job, shop: Shop, now: datetime) -> dict[str, Any]:
    """Return all of a bench record but references and steps."""
    profile = shipped_profile(job.analyzer.profile)
    address = job.owner.addresses.first()
    head: dict[str, Any] = {
        "job": job.number,
        "shop": {"name": shop.name, "address": list(shop.address), "method": shop.method},
        "owner": {"name": job.owner.name, "address": address.as_lines() if address else []},
        "order": {
            "service": job.service,
            "as_found": job.as_found,
            "limits": job.limits or "profile",
            "decision_rule": job.decision_rule,
            "due": {
                "wanted": bool(job.due_wanted and job.owner.due_agreed),
                "months": job.owner.due_months,
                "rule": "end-of-month" if job.owner.due_rule == "month-end" else "day",
            },
            "accredited": False,
        },
        "received": {
            "date": (job.received_on or timezone.localtime(now).date()).isoformat(),
            "condition": job.condition or "not noted",
            "enclosed": list(job.enclosed),
        },
        "analyzer": {
            "make": job.analyzer.make,
            "model": job.analyzer.model,
            "serial": job.analyzer.serial,
            "profile": {"name": profile.name, "version": profile.version, "sha256": profile.sha256},
            "cells": [_cell(cell) for cell in job.analyzer.cells.filter(removed=None)],
        },
    }
    if job.analyzer.firmware:
        head["analyzer"]["firmware"] = job.analyzer.firmware
    return head


def _cell(cell: Any) -> dict[str, Any]:
    content: dict[str, Any] = {"gas": cell.gas}
    if cell.serial:
        content["serial"] = cell.serial
    if cell.made:
        content["made"] = cell.made
    if cell.fitted:
        content["fitted"] = cell.fitted.isoformat()
    return content
