"""Addresses of the bench."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.bench.views import calling, finish, gas, record, scan, start, step, visit

app_name = "bench"
urlpatterns = [
    path("", start.start, name="start"),
    path("scanned", scan.what_is, name="scanned"),
    path("<str:number>/", visit.visit, name="visit"),
    path("<str:number>/plan", visit.plan, name="plan"),
    path("<str:number>/since", visit.since, name="since"),
    path("<str:number>/step/gas", gas.gas, name="gas"),
    path("<str:number>/step/<slug:kind>", step.step, name="step"),
    path("<str:number>/finish", finish.finish, name="finish"),
    path("<str:number>/back", finish.back, name="back"),
    path("<str:number>/hold", calling.hold, name="hold"),
    path("<str:number>/decision", calling.decision, name="decision"),
    path("<str:number>/decision/approved", calling.approved, name="approved"),
    path("<str:number>/letter", calling.letter, name="letter"),
    path("<str:number>/letter.pdf", calling.letter_pdf, name="letter-pdf"),
    path("<str:number>/record", record.record, name="record"),
    path("<str:number>/record.json", record.record_json, name="record-json"),
]
