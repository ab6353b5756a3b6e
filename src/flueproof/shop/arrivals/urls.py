"""Addresses of the boxes."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.arrivals.views import boxes, calls, condition, correcting, panel, recognizing, taking

app_name = "arrivals"
urlpatterns = [
    path("boxes/", boxes.boxes, name="boxes"),
    path("boxes/new", boxes.new, name="new"),
    path("boxes/<int:pk>", recognizing.box, name="box"),
    path("boxes/<int:pk>/ranked", recognizing.ranked, name="ranked"),
    path("boxes/<int:pk>/take", taking.take, name="take"),
    path("boxes/<int:pk>/newcomer", taking.newcomer, name="newcomer"),
    path("boxes/<int:pk>/aside", correcting.aside, name="aside"),
    path("boxes/<int:pk>/not-its-slip", correcting.not_its_slip, name="not-its-slip"),
    path("boxes/<int:pk>/put-back", correcting.wrong_one, name="put-back"),
    path("boxes/<int:pk>/mistake", correcting.mistake, name="mistake"),
    path("boxes/<int:pk>/condition", condition.condition, name="condition"),
    path("boxes/<int:pk>/photos", condition.photos, name="photos"),
    path("boxes/<int:pk>/ask", condition.ask, name="ask"),
    path("boxes/of/<str:number>", panel.job_panel, name="job-panel"),
    path("boxes/of/<str:number>/ask", panel.ask, name="job-ask"),
    path("calls/", calls.calls, name="calls"),
]
