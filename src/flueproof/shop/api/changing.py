"""Changing a row on condition that nobody else did: 409 with the row as it is now."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.api.answers import ApiError
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.keeping.conflict import EditConflict, save_if_unchanged


def checked(row: models.Model) -> None:
    """Refuse a row that the model itself does not allow.

    Raises: ApiError (422; 409 where another row has it already).
    """
    try:
        row.full_clean()
    except ValidationError as error:
        where, faults = next(iter(error.error_dict.items()))
        told = faults[0]
        field = "" if where == "__all__" else where
        status = (
            409 if told.code in {"unique", "unique_together"} or "already exists" in " ".join(told.messages) else 422
        )
        raise ApiError(status, " ".join(told.messages), "", field) from error


def change(
    row: models.Model, version: int, wanted: dict[str, Any], by: Any, shape: Callable[[Any], dict[str, Any]]
) -> Any:
    """Write what is wanted to a row whose version is still the one seen, and return it.

    Raises: ApiError (422: not allowed; 409: changed meanwhile, with the row as it is now).
    """
    tried = type(row)._default_manager.get(pk=row.pk)  # noqa: SLF001 -- Django's documented model API
    for name, value in wanted.items():
        setattr(tried, name, value)
    checked(tried)
    try:
        return save_if_unchanged(row, version, wanted)
    except EditConflict as conflict:
        fields = ", ".join(item.label for item in conflict.differences) or "nothing you see here"
        raise ApiError(
            409,
            f"{by_whom(conflict, by)} changed this meanwhile: {fields}.",
            "Look at `current`, and send the change again with its version.",
            "version",
            shape(conflict.current),
        ) from conflict


def carry_on(carry: Callable[..., object], row: Any, by: Any) -> None:
    """Let the open bench records take over what changed in a row, by one of the services of jobs/order_change.

    Call it inside the transaction that changed the row.
    Raises: ApiError (422) when a record cannot take it.
    """
    try:
        carry(row, the_shop(), by, timezone.now())
    except RecordError as error:
        raise ApiError(422, f"An open bench record cannot take this: {error.message}", error.remedy) from error


def by_whom(conflict: EditConflict, by: Any) -> str:
    """Return who made the other change, in words."""
    return "This token's own person" if conflict.by == str(by) else conflict.by.capitalize() or "Someone"
