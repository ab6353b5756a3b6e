"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.gas_rack.views import (
    documents,
    judged,
    labels,
    mornings,
    new_bottles,
    rack,
    reference,
    registering,
    withdrawing,
)

app_name = "gas_rack"
urlpatterns = [
    path("", rack.rack, name="rack"),
    path("find", rack.find, name="find"),
    path("new", registering.choose_kind, name="new"),
    path("new/<str:kind>", registering.add, name="add"),
    path("morning", mornings.morning, name="morning"),
    path("morning/<int:pk>", mornings.check, name="morning-check"),
    path("document/<int:pk>", documents.document, name="document"),
    path("reference/<path:code>", reference.reference, name="reference"),
    path("change/<path:code>", registering.change, name="change"),
    path("gauge/<path:code>", reference.gauge, name="gauge"),
    path("documents/<path:code>", documents.upload, name="upload"),
    path("compare/<path:code>", new_bottles.compare, name="compare"),
    path("withdraw/<path:code>", withdrawing.withdraw_reference, name="withdraw"),
    path("judged/<path:code>", judged.visits, name="judged"),
    path("judged-list/<path:code>", judged.as_csv, name="judged-csv"),
    path("label/<path:code>", labels.label, name="label"),
]
