"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.parts_store.views import (
    changing,
    counting,
    leaving,
    listing,
    lots,
    ordering,
    part,
    picking,
    receiving,
)

app_name = "parts_store"
urlpatterns = [
    path("", listing.store, name="list"),
    path("find", listing.find, name="find"),
    path("parts.csv", listing.as_csv, name="csv"),
    path("new", changing.add, name="new"),
    path("receive", receiving.receive, name="receive"),
    path("out", leaving.take, name="take"),
    path("count", counting.count, name="count"),
    path("picking", picking.picking, name="picking"),
    path("<int:pk>/", part.part, name="part"),
    path("<int:pk>/change", changing.change, name="change"),
    path("<int:pk>/order", ordering.order, name="order"),
    path("<int:pk>/order/drop", ordering.drop, name="drop-order"),
    path("<int:pk>/reserve", ordering.reserve, name="reserve"),
    path("<int:pk>/let-go", ordering.let_go, name="let-go"),
    path("lots/<int:pk>/", lots.lot, name="lot"),
    path("lots/<int:pk>/back", leaving.back, name="back"),
    path("lots/<int:pk>/away", leaving.away, name="away"),
    path("lots/<int:pk>/certificate", lots.certificate, name="certificate"),
    path("moves/<int:pk>/correct", counting.correct, name="correct"),
]
