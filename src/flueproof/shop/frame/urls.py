"""Addresses of the frame: signing in and out, the person's own page, the second factor."""

from __future__ import annotations

from django.contrib.auth import views as auth_views
from django.urls import path

from flueproof.shop.frame.views import me, password, second_factor, sign_in

app_name = "frame"
urlpatterns = [
    path("sign-in", sign_in.SignIn.as_view(), name="login"),
    path("sign-in/code", sign_in.code, name="code"),
    path("sign-out", auth_views.LogoutView.as_view(), name="logout"),
    path("me", me.me, name="me"),
    path("me/password", password.password, name="password"),
    path("me/second-factor", second_factor.second_factor, name="second-factor"),
    path("me/second-factor/off", second_factor.switch_off, name="second-factor-off"),
    path("me/second-factor/codes", second_factor.new_codes, name="second-factor-codes"),
]
