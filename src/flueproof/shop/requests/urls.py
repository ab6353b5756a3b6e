"""Addresses of this page: public ones below service-request/, those of the counter below requests/."""

from __future__ import annotations

from django.urls import URLPattern, path

from flueproof.shop.requests.views import begin, counter, phone, sent, steps

app_name = "requests"
urlpatterns: list[URLPattern] = [
    path("service-request/", begin.begin, name="begin"),
    path("service-request/confirm/<str:secret>/", sent.confirm, name="confirm"),
    path("service-request/<str:secret>/", sent.resume, name="resume"),
    path("service-request/<str:secret>/send", sent.send, name="send"),
    path("service-request/<str:secret>/sent", sent.sent, name="sent"),
    path("service-request/<str:secret>/mail", sent.mail_again, name="mail-again"),
    path("service-request/<str:secret>/slip.pdf", sent.slip, name="slip"),
    path("service-request/<str:secret>/give-up", sent.give_up, name="give-up"),
    path("service-request/<str:secret>/<slug:name>/", steps.step, name="step"),
    path("requests/", counter.request_list, name="list"),
    path("requests/new/", phone.phone, name="phone"),
    path("requests/<str:code>/", counter.one_request, name="request"),
    path("requests/<str:code>/confirm", counter.confirm_by_hand, name="confirm-by-hand"),
    path("requests/<str:code>/ask-again", counter.ask_again, name="ask-again"),
    path("requests/<str:code>/withdraw", counter.withdraw, name="withdraw"),
    path("requests/<str:code>/jobs", counter.to_jobs, name="to-jobs"),
    path("requests/<str:code>/analyzers/<int:pk>", counter.choose_analyzer, name="choose-analyzer"),
    path("requests/<str:code>/owner", counter.choose_owner, name="choose-owner"),
    path("requests/<str:code>/slip.pdf", counter.staff_slip, name="staff-slip"),
    path("box/<str:text>", counter.scanned, name="scanned"),
]
