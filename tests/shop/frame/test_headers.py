"""What every answer says to the browser: no foreign source, no inline script or style, no frame of strangers."""

import importlib
import re

import pytest
from django.urls import reverse

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]
SHOWN = ["/sign-in", "/nothing-here", "/", "/bench/", "/gas/", "/papers/", "/me", "/api/v1/docs"]


def policy_of(answer):
    parts = (part.split() for part in answer["Content-Security-Policy"].split(";"))
    return {part[0]: part[1:] for part in parts if part}


@pytest.mark.parametrize("address", SHOWN)
def test_the_policy_lets_in_the_shops_own_files_only(signer_client, client, address):
    policy = policy_of((client if address == "/sign-in" else signer_client).get(address))
    assert policy["default-src"] == ["'self'"]
    assert policy["style-src"] == ["'self'"]
    assert policy["object-src"] == policy["base-uri"] == ["'none'"]
    assert policy["form-action"] == policy["frame-ancestors"] == policy["connect-src"] == ["'self'"]
    for name, allowed in policy.items():
        for source in allowed:
            assert re.fullmatch(r"'self'|'none'|data:|blob:|'nonce-[\w+/=-]+'", source), (name, source)
    assert "data:" not in policy["script-src"]
    assert not {"'unsafe-inline'", "'unsafe-eval'"} & {word for allowed in policy.values() for word in allowed}


@pytest.mark.parametrize("address", SHOWN)
def test_the_other_headers_are_there(signer_client, client, address):
    answer = (client if address == "/sign-in" else signer_client).get(address)
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["X-Frame-Options"] in {"DENY", "SAMEORIGIN"}
    assert "Strict-Transport-Security" not in answer


def test_no_shared_cache_keeps_what_a_signed_in_person_sees(signer_client):
    assert signer_client.get("/")["Cache-Control"] == "private, no-cache"
    assert "no-store" in signer_client.get(reverse("frame:second-factor"))["Cache-Control"]


def test_the_cookies_are_out_of_reach_of_scripts_and_of_other_sites(client, people):
    client.get(reverse("frame:login"))
    client.post(reverse("frame:login"), {"username": "technician", "password": "Seven-grey-herons-4"})
    session, token = client.cookies["sessionid"], client.cookies["csrftoken"]
    assert session["httponly"]
    assert (session["samesite"], token["samesite"]) == ("Lax", "Lax")
    assert session["max-age"] == 12 * 3600


class TestBehindHttps:
    """`serve --https`: a proxy before the shop speaks HTTPS."""

    @pytest.fixture(autouse=True)
    def _https(self, settings, monkeypatch):
        from flueproof.shop import settings as ours

        monkeypatch.setenv("FLUEPROOF_HTTPS", "1")
        with_https = importlib.reload(ours)
        for name in ("SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE", "SECURE_SSL_REDIRECT", "SECURE_HSTS_SECONDS"):
            setattr(settings, name, getattr(with_https, name))
        settings.SECURE_CROSS_ORIGIN_OPENER_POLICY = with_https.SECURE_CROSS_ORIGIN_OPENER_POLICY
        yield
        monkeypatch.delenv("FLUEPROOF_HTTPS")
        importlib.reload(ours)

    def test_plain_http_is_sent_on(self, client):
        answer = client.get(reverse("frame:login"))
        assert (answer.status_code, answer["Location"]) == (301, "https://testserver/sign-in")

    def test_the_browser_is_told_to_stay_with_it(self, client):
        answer = client.get(reverse("frame:login"), secure=True)
        assert answer["Strict-Transport-Security"] == "max-age=31536000"
        assert answer["Cross-Origin-Opener-Policy"] == "same-origin"

    def test_cookies_go_over_https_only(self, client, people):
        client.get(reverse("frame:login"), secure=True)
        fields = {"username": "technician", "password": "Seven-grey-herons-4"}
        client.post(reverse("frame:login"), fields, secure=True, headers={"referer": "https://testserver/sign-in"})
        assert client.cookies["sessionid"]["secure"]
        assert client.cookies["csrftoken"]["secure"]
