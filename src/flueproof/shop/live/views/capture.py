"""The doors for the agent beside an analyzer: hello, and readings."""

from __future__ import annotations

import hashlib
from typing import Final

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.live.capture_body import BodyRefusedError, read_body
from flueproof.shop.records.models import ApiToken, Station
from flueproof.shop.records.visits.looks.arriving import take_readings

RIGHT: Final = "capture"
_BEARER: Final = "Bearer "


class TokenRefusedError(ValueError):
    """A token that opens nothing here; with the HTTP status."""

    def __init__(self, message: str, remedy: str, status: int) -> None:
        """Hold what is wrong and what to do."""
        super().__init__(message)
        self.message, self.remedy, self.status = message, remedy, status


@csrf_exempt  # a token, no cookie: nothing that another site could make a browser send
def hello(request: HttpRequest) -> HttpResponse:
    """Say which shop and station a token belongs to."""
    if request.method != "GET":
        return _wrong_method("GET")
    try:
        station = station_of(request)
    except TokenRefusedError as error:
        return _refused(error.status, error.message, error.remedy)
    return JsonResponse({"station": station.name, "shop": the_shop().name})


@csrf_exempt  # a token, no cookie: nothing that another site could make a browser send
def readings(request: HttpRequest) -> HttpResponse:
    """Store a batch of readings and acknowledge it, after the commit."""
    if request.method != "POST":
        return _wrong_method("POST")
    try:
        station = station_of(request)
        agent, rows = read_body(request.body)
    except (TokenRefusedError, BodyRefusedError) as error:
        return _refused(error.status, error.message, error.remedy)
    taken = take_readings(station, agent, rows, timezone.now())
    return JsonResponse({"acknowledged": taken.acknowledged, "stored": taken.stored, "repeated": taken.repeated})


def station_of(request: HttpRequest) -> Station:
    """Return the station of a request's token.

    Raises: TokenRefusedError (401: no such token; 403: it may not do this).
    """
    given = request.headers.get("Authorization", "")
    secret = given.removeprefix(_BEARER).strip() if given.startswith(_BEARER) else ""
    digest = hashlib.sha256(secret.encode()).hexdigest()
    token: ApiToken | None = ApiToken.objects.select_related("station", "person").filter(sha256=digest).first()
    if not secret or token is None or token.withdrawn_at is not None:
        raise TokenRefusedError("This token is not known here.", "Make a new one in the shop and copy it whole.", 401)
    if token.expires_on is not None and token.expires_on < timezone.localdate():
        raise TokenRefusedError("This token has expired.", "Make a new one in the shop.", 401)
    if RIGHT not in token.rights or not token.person.is_active:
        raise TokenRefusedError("This token may not deliver readings.", "Make one with the right to capture.", 403)
    if token.station is None:
        raise TokenRefusedError("This token belongs to no station.", "Make one for the station it stands at.", 403)
    station: Station = token.station
    return station


def _refused(status: int, message: str, remedy: str) -> JsonResponse:
    answer = JsonResponse({"error": {"message": message, "remedy": remedy}}, status=status)
    if status == 401:
        answer["WWW-Authenticate"] = "Bearer"
    return answer


def _wrong_method(allowed: str) -> JsonResponse:
    answer = _refused(405, f"Only {allowed} is answered here.", f"Use {allowed}.")
    answer["Allow"] = allowed
    return answer
