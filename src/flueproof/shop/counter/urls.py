"""Addresses of the Counter."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.counter.views import jobs, reading, search

app_name = "counter"
urlpatterns = [
    path("", jobs.job_list, name="jobs"),
    path("search", search.find, name="search"),
    path("jobs/<str:number>", reading.job, name="job"),
    path("owners/<int:pk>", reading.owner, name="owner"),
    path("analyzers/<int:pk>", reading.analyzer, name="analyzer"),
]
