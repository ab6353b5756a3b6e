"""Addresses of the Counter."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.counter.views import import_acts, importing, job, job_acts, job_change, job_new, jobs, lists, search
from flueproof.shop.counter.views.on_file import analyzer, cells, owner, parts, sale

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
    path("import/", importing.imports, name="import"),
    path("import/<int:pk>", importing.import_run, name="import-run"),
    path("import/<int:pk>/columns", importing.columns, name="import-columns"),
    path("import/<int:pk>/choose", import_acts.choose, name="import-choose"),
    path("import/<int:pk>/do", import_acts.do, name="import-do"),
    path("import/<int:pk>/undo", import_acts.undo, name="import-undo"),
    path("import/<int:pk>/problems.csv", import_acts.problems, name="import-problems"),
    path("owners/", lists.owners, name="owners"),
    path("analyzers/", lists.analyzers, name="analyzers"),
    path("owners/new", owner.new, name="owner-new"),
    path("owners/<int:pk>", owner.owner, name="owner"),
    path("owners/<int:pk>/change", owner.change, name="owner-change"),
    path("owners/<int:pk>/analyzers/new", analyzer.new, name="analyzer-new"),
    path("owners/<int:pk>/people/new", parts.add, {"part": "person"}, name="person-new"),
    path("owners/<int:pk>/people/<int:row>", parts.change, {"part": "person"}, name="person"),
    path("owners/<int:pk>/people/<int:row>/remove", parts.remove, {"part": "person"}, name="person-remove"),
    path("owners/<int:pk>/addresses/new", parts.add, {"part": "address"}, name="address-new"),
    path("owners/<int:pk>/addresses/<int:row>", parts.change, {"part": "address"}, name="address"),
    path("owners/<int:pk>/addresses/<int:row>/remove", parts.remove, {"part": "address"}, name="address-remove"),
    path("analyzers/<int:pk>", analyzer.analyzer, name="analyzer"),
    path("analyzers/<int:pk>/change", analyzer.change, name="analyzer-change"),
    path("analyzers/<int:pk>/sold", sale.sold, name="analyzer-sold"),
    path("analyzers/<int:pk>/cells/new", parts.add, {"part": "cell"}, name="cell-new"),
    path("analyzers/<int:pk>/cells/<int:row>", parts.change, {"part": "cell"}, name="cell"),
    path("analyzers/<int:pk>/cells/<int:row>/remove", parts.remove, {"part": "cell"}, name="cell-remove"),
    path("analyzers/<int:pk>/cells/<int:row>/replace", cells.replace, name="cell-replace"),
    path("analyzers/<int:pk>/due/new", parts.add, {"part": "due"}, name="due-new"),
    path("analyzers/<int:pk>/due/<int:row>", parts.change, {"part": "due"}, name="due"),
    path("analyzers/<int:pk>/due/<int:row>/remove", parts.remove, {"part": "due"}, name="due-remove"),
]
