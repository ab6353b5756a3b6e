"""Addresses of the Counter."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.counter.views import job, job_acts, job_change, job_new, jobs, lists, reading, search

app_name = "counter"
urlpatterns = [
    path("", jobs.job_list, name="jobs"),
    path("search", search.find, name="search"),
    path("jobs/new", job_new.job_new, name="job-new"),
    path("jobs/<str:number>", job.job, name="job"),
    path("jobs/<str:number>/change", job_change.change, name="job-change"),
    path("jobs/<str:number>/receive", job_acts.receive, name="job-receive"),
    path("jobs/<str:number>/move", job_acts.move, name="job-move"),
    path("jobs/<str:number>/hold", job_acts.hold_job, name="job-hold"),
    path("jobs/<str:number>/release", job_acts.release_job, name="job-release"),
    path("jobs/<str:number>/hand-out", job_acts.hand_out_job, name="job-hand-out"),
    path("jobs/<str:number>/note", job_acts.note, name="job-note"),
    path("owners/", lists.owners, name="owners"),
    path("analyzers/", lists.analyzers, name="analyzers"),
    path("owners/<int:pk>", reading.owner, name="owner"),
    path("analyzers/<int:pk>", reading.analyzer, name="analyzer"),
]
