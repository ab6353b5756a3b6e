"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.promises.views import asking, feed, figures, hours, job_panel, opening, plan, printing, settings

app_name = "promises"
urlpatterns = [
    path("promises/", plan.plan, name="plan"),
    path("promises/anew", plan.anew, name="anew"),
    path("promises/better", plan.better, name="better"),
    path("promises/can", asking.can, name="can"),
    path("promises/take", asking.taken, name="take"),
    path("promises/open", opening.opening, name="open"),
    path("promises/away", asking.away, name="away"),
    path("promises/room", asking.room, name="room"),
    path("promises/work-list", printing.work_list, name="work-list"),
    path("promises/work-list.pdf", printing.work_list_file, name="work-list-file"),
    path("promises/job/<str:number>", job_panel.job_panel, name="job-panel"),
    path("promises/job/<str:number>/give", job_panel.give, name="give"),
    path("promises/job/<str:number>/paperwork", job_panel.paperwork, name="paperwork"),
    path("promises/kept", figures.kept, name="kept"),
    path("promises/calendars", feed.calendars, name="calendars"),
    path("promises/calendars/<int:pk>/withdraw", feed.withdraw, name="calendar-withdraw"),
    path("promises/calendar/<str:secret>", feed.feed, name="feed"),
    path("promises/settings", settings.settings, name="settings"),
    path("promises/settings/closed", hours.closed, name="closed"),
    path("promises/settings/closed/<int:pk>/remove", hours.closed_remove, name="closed-remove"),
    path("promises/settings/people/<int:pk>", hours.person, name="person"),
    path("promises/settings/people/<int:pk>/off", hours.off, name="off"),
    path("promises/settings/off/<int:pk>/remove", hours.off_remove, name="off-remove"),
    path("promises/settings/stations/<int:pk>", hours.station, name="station"),
    path("promises/settings/stations/<int:pk>/out", hours.out, name="out"),
    path("promises/settings/out/<int:pk>/remove", hours.out_remove, name="out-remove"),
]
