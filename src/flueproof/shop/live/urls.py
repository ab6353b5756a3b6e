"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.live.views import together, typing, watching, working

app_name = "live"
urlpatterns = [
    path("begin", working.begin, name="begin"),
    path("set", together.choose, name="set"),
    path("set/<str:group>", together.running, name="set-running"),
    path("set/<str:group>/budget", together.budget, name="set-budget"),
    path("set/<str:group>/gas-on", together.gas_on, name="set-gas-on"),
    path("set/<str:group>/finish", together.finish, name="set-finish"),
    path("photo", typing.photo, name="photo"),
    path("photo/<str:sha256>.jpg", typing.photo_file, name="photo-file"),
    path("<int:visit>/begin", working.begin, name="begin"),
    path("<int:visit>/panel", watching.panel, name="panel"),
    path("<int:visit>/events", watching.events, name="events"),
    path("<int:visit>/poll", watching.poll, name="poll"),
    path("<int:visit>/follow", watching.follow, name="follow"),
    path("<int:visit>/station", typing.station, name="station"),
    path("run/<int:application>/gas-on", working.gas_on, name="gas-on"),
    path("run/<int:application>/type", typing.type_, name="type"),
    path("run/<int:application>/file", typing.file, name="file"),
    path("run/<int:application>/finish", working.finish, name="finish"),
    path("run/<int:application>/drop", working.drop, name="drop"),
]
