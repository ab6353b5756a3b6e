"""Addresses: impact: what an error found in an analyzer did to its owner's readings."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.impact.views import kept, page, sending

app_name = "impact"
urlpatterns = [
    path("<int:pk>/", page.analyzer, name="analyzer"),
    path("<int:pk>/log", page.log, name="log"),
    path("<int:pk>/log/list.csv", sending.sent, {"ending": "csv"}, name="log-csv"),
    path("<int:pk>/log/list.json", sending.sent, {"ending": "json"}, name="log-json"),
    path("<int:pk>/log/letter.pdf", sending.sent, {"ending": "pdf"}, name="log-letter"),
    path("<int:pk>/log/keep", kept.keep, name="keep"),
    path("visits/<int:pk>/", page.visit, name="visit"),
    path("logs/<int:pk>/", kept.kept, name="kept"),
    path("logs/<int:pk>/list.csv", sending.kept, {"ending": "csv"}, name="kept-csv"),
    path("logs/<int:pk>/list.json", sending.kept, {"ending": "json"}, name="kept-json"),
    path("logs/<int:pk>/letter.pdf", sending.kept, {"ending": "pdf"}, name="kept-letter"),
    path("logs/<int:pk>/erase", kept.erase, name="erase"),
]
