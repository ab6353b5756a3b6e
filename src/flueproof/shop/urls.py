"""Where each page lives; every page app has its own urls.py."""

from __future__ import annotations

from django.urls import include, path

urlpatterns = [
    path("", include("flueproof.shop.frame.urls")),
    path("", include("flueproof.shop.counter.urls")),
    path("", include("flueproof.shop.requests.urls")),
    path("", include("flueproof.shop.arrivals.urls")),
    path("", include("flueproof.shop.mail.urls")),
    path("", include("flueproof.shop.promises.urls")),
    path("", include("flueproof.shop.returns.urls")),
    path("flue/", include("flueproof.shop.flue.urls")),
    path("duties/", include("flueproof.shop.duties.urls")),
    path("impact/", include("flueproof.shop.impact.urls")),
    path("bench/", include("flueproof.shop.bench.urls")),
    path("live/", include("flueproof.shop.live.urls")),
    path("capture/", include("flueproof.shop.live.capture_urls")),
    path("gas/", include("flueproof.shop.gas_rack.urls")),
    path("parts/", include("flueproof.shop.parts_store.urls")),
    path("papers/", include("flueproof.shop.papers.urls")),
    path("house/", include("flueproof.shop.house.urls")),
    path("api/", include("flueproof.shop.api.urls")),
]
handler400 = "flueproof.shop.frame.errors.bad_request"
handler403 = "flueproof.shop.frame.errors.not_allowed"
handler404 = "flueproof.shop.frame.errors.not_found"
handler500 = "flueproof.shop.frame.errors.broken"
