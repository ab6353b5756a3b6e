"""Addresses of the House: people, the shop's settings, stations, doors for programs, the rights table."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.house.views import deliveries, people, person, rights, shop, stations, tokens, webhooks

app_name = "house"
urlpatterns = [
    path("", shop.settings, name="shop"),
    path("people", people.people, name="people"),
    path("people/new", people.add, name="person-new"),
    path("people/<int:pk>", person.change, name="person"),
    path("people/<int:pk>/password", person.password, name="password"),
    path("people/<int:pk>/leave", person.leave, name="leave"),
    path("people/<int:pk>/return", person.come_back, name="return"),
    path("people/<int:pk>/lockout", person.lockout, name="lockout"),
    path("people/<int:pk>/second-factor", person.second_factor, name="second-factor"),
    path("stations", stations.stations, name="stations"),
    path("stations/<int:pk>", stations.station, name="station"),
    path("tokens", tokens.tokens, name="tokens"),
    path("tokens/<int:pk>/withdraw", tokens.withdraw, name="token-withdraw"),
    path("webhooks", webhooks.webhooks, name="webhooks"),
    path("webhooks/<int:pk>", webhooks.webhook, name="webhook"),
    path("webhooks/<int:pk>/secret", webhooks.secret, name="webhook-secret"),
    path("webhooks/<int:pk>/test", deliveries.test, name="webhook-test"),
    path("deliveries/<int:pk>/again", deliveries.again, name="delivery-again"),
    path("rights", rights.rights, name="rights"),
]
