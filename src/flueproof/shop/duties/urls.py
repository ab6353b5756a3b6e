"""Addresses: duties: what the shop owes owners when an analyzer or a reference was found wrong."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.duties.views import acts, duty, finding, finding_acts, listing, papers, parts, wrong

app_name = "duties"
urlpatterns = [
    path("", listing.duty_list, name="list"),
    path("today", parts.today_line, name="today"),
    path("jobs/<str:number>/", parts.job_panel, name="job-panel"),
    path("<int:pk>/", duty.duty_page, name="duty"),
    path("<int:pk>/tell", acts.tell_owner, name="tell"),
    path("<int:pk>/e-mail", acts.write_mail, name="write"),
    path("<int:pk>/need-not", acts.need_not_tell, name="need-not"),
    path("<int:pk>/again", acts.again, name="again"),
    path("<int:pk>/letter.pdf", papers.notice_pdf, name="letter"),
    path("<int:pk>/tag", papers.do_not_use_tag, name="tag"),
    path("references/<path:code>/wrong", wrong.declare, name="wrong"),
    path("findings/<int:pk>/", finding.finding_page, name="finding"),
    path("findings/<int:pk>/progress", finding.progress, name="progress"),
    path("findings/<int:pk>/visits/<int:visit>/", finding.one_visit, name="visit"),
    path("findings/<int:pk>/list.csv", finding.as_csv, name="finding-csv"),
    path("findings/<int:pk>/judge", finding_acts.judge_next, name="judge"),
    path("findings/<int:pk>/letters", finding_acts.write_letters, name="letters"),
]
