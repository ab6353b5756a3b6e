"""Who asks: a bearer token with the right that the operation needs; so many requests a minute and no more."""

from __future__ import annotations

import time
from typing import Any, Final

from django.core.cache import cache
from django.http import HttpRequest
from django.utils import timezone
from ninja.security import HttpBearer
from ninja.throttling import BaseThrottle

from flueproof.shop.api.answers import ApiError
from flueproof.shop.records.access.tokens import TokenUnknownError, token_may, token_of
from flueproof.shop.records.models import ApiToken, Person
from flueproof.shop.records.people.rights import RIGHT_IN_WORDS, RIGHTS

REQUESTS_A_MINUTE: Final = 300


class BearerToken(HttpBearer):
    """`Authorization: Bearer <token>`; made on the House page, withdrawn there too."""

    def __init__(self, right: str) -> None:
        """Need a right.

        Raises: KeyError for a right that is not in the table.
        """
        RIGHTS[right]
        super().__init__()
        self.right = right

    def authenticate(self, request: HttpRequest, token: str) -> ApiToken:
        """Return the token's row, and let the person who made it stand in the history of what it changes.

        Raises: ApiError (401: opens nothing; 403: has not this right).
        """
        try:
            row = token_of(token, timezone.now())
        except TokenUnknownError as error:
            raise ApiError(401, str(error), "Make a token on the House page and send it as a bearer token.") from error
        if not token_may(row, self.right):
            raise ApiError(
                403,
                f"This token may not do this: {RIGHT_IN_WORDS[self.right].lower()}.",
                f"Make a token with the right {self.right}.",
            )
        request.user = row.person
        return row


class PerToken(BaseThrottle):
    """So many requests a minute for each token, counted by each process of the shop for itself."""

    def allow_request(self, request: HttpRequest) -> bool:
        """Count the request and return whether it may pass."""
        key = f"api-{token_on(request).pk}-{int(time.time() // 60)}"
        cache.add(key, 0, 120)
        try:
            return bool(cache.incr(key) <= REQUESTS_A_MINUTE)
        except ValueError:  # it fell out of the cache between the two calls
            return True

    def wait(self) -> float:
        """Return the seconds until the next minute begins."""
        return 60.0 - time.time() % 60.0


def token_on(request: HttpRequest) -> ApiToken:
    """Return the token of a request that passed the door."""
    asked: Any = request
    row: ApiToken = asked.auth
    return row


def person_on(request: HttpRequest) -> Person:
    """Return the person who answers for the request's token."""
    person: Person = token_on(request).person
    return person
