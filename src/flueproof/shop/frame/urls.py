"""Addresses of the frame: signing in and out, the person's own page."""

from __future__ import annotations

from django.contrib.auth import views as auth_views
from django.urls import path

from flueproof.shop.frame.views import me

app_name = "frame"
urlpatterns = [
    path("sign-in", auth_views.LoginView.as_view(template_name="frame/sign_in.html"), name="login"),
    path("sign-out", auth_views.LogoutView.as_view(), name="logout"),
    path("me", me.me, name="me"),
]
