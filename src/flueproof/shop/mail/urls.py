"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.mail.views import acts, answering, job_panel, log, words

app_name = "mail"
urlpatterns = [
    path("answer/<str:secret>/", answering.answer, name="answer"),
    path("letters/", log.log, name="log"),
    path("letters/<int:pk>/", log.letter, name="letter"),
    path("letters/<int:pk>/html", log.letter_html, name="letter-html"),
    path("letters/<int:pk>/again", log.again, name="again"),
    path("letters/<int:pk>/came-back", log.came_back, name="came-back"),
    path("letters/words/", words.templates, name="templates"),
    path("letters/words/<str:kind>/", words.template, name="template"),
    path("letters/words/<str:kind>/preview", words.preview, name="preview"),
    path("letters/words/<str:kind>/shipped", words.shipped, name="shipped"),
    path("letters/job/<str:number>/", job_panel.panel, name="job-panel"),
    path("letters/job/<str:number>/ask", acts.ask_owner, name="ask"),
    path("letters/job/<str:number>/write", acts.write, name="write"),
    path("letters/job/<str:number>/stands", acts.stands, name="stands"),
    path("letters/question/<int:pk>/answer", acts.note_answer, name="note-answer"),
    path("letters/question/<int:pk>/withdraw", acts.withdraw_question, name="withdraw"),
]
