"""The one shape of everything that goes wrong, and the answers that every operation declares."""

from __future__ import annotations

from typing import Any

from ninja import Schema
from pydantic import Field


class ErrorText(Schema):
    """What is wrong, what to do, and where in the request."""

    message: str = Field(description="What is wrong, in one sentence.")
    remedy: str = Field("", description="What to do.")
    where: str = Field("", description="The field or parameter it is about, empty for the whole request.")


class ErrorOut(Schema):
    """The answer to every request that was not done; nothing was changed."""

    error: ErrorText


class ConflictOut(Schema):
    """Somebody else changed the row meanwhile, or it stands in the way: the error, and the row as it is now."""

    error: ErrorText
    current: dict[str, Any] | None = Field(None, description="The row as it is now, where there is one.")


class ApiError(Exception):
    """A request that cannot be done; carries the HTTP status and the error's texts."""

    def __init__(
        self, status: int, message: str, remedy: str = "", where: str = "", current: dict[str, Any] | None = None
    ) -> None:
        super().__init__(message)
        self.status, self.current = status, current
        self.error = ErrorText(message=message, remedy=remedy, where=where)


def answers(done: Any, status: int = 200) -> dict[int, Any]:
    """Return the answers an operation declares: what it does, and all that can go wrong."""
    wrong = dict.fromkeys((401, 403, 404, 422, 429), ErrorOut)
    return {status: done, **wrong, 409: ConflictOut}


def missing(what: str, name: object) -> ApiError:
    """Return the error for a row that is not there, or not for this token."""
    return ApiError(404, f"There is no {what} {name}.", "Look for it with /search.")
