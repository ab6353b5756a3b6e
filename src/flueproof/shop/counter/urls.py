"""Addresses of the Counter."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.counter.views import jobs, search

app_name = "counter"
urlpatterns = [
    path("", jobs.job_list, name="jobs"),
    path("search", search.find, name="search"),
]
