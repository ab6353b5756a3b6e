"""What a manager does with people: a password, leaving and coming back, a lockout, a lost second factor."""

from __future__ import annotations

from typing import Any

from axes.models import AccessAttempt
from axes.utils import reset
from django.contrib.auth.password_validation import validate_password
from django.db import transaction
from django_otp import devices_for_user

from flueproof.shop.records.models import Person
from flueproof.shop.records.people.rights import MANAGER


class LastManagerError(ValueError):
    """Without a manager nobody could let anybody in any more; nothing was changed."""


def refuse_to_lose_the_last_manager(person: Person, role: str, *, active: bool) -> None:
    """Refuse a change after which no active manager would be left.

    Raises: LastManagerError.
    """
    stays = active and role == MANAGER
    others = Person.objects.select_for_update().filter(role=MANAGER, is_active=True).exclude(pk=person.pk)
    if not stays and person.is_active and person.role == MANAGER and not list(others.values_list("pk", flat=True)):
        raise LastManagerError(f"{person} is the only manager. Make somebody else one first.")


def set_password(person: Person, password: str, by: Person) -> Person:
    """Give a person a new password; wherever they are signed in, they are signed out.

    Raises: django.core.exceptions.ValidationError when the password is too weak.
    """
    row: Any = Person.objects.get(pk=person.pk)
    validate_password(password, row)
    row.set_password(password)
    return _save(row, by, "password")


def let_go(person: Person, by: Person) -> Person:
    """Let a person in no longer; what they did keeps their name. Their tokens open nothing from now on.

    Raises: LastManagerError.
    """
    with transaction.atomic():
        row = Person.objects.get(pk=person.pk)
        refuse_to_lose_the_last_manager(row, row.role, active=False)
        return row if not row.is_active else _activity(row, by, active=False)


def take_back(person: Person, by: Person) -> Person:
    """Let a person in again who had left."""
    row = Person.objects.get(pk=person.pk)
    return row if row.is_active else _activity(row, by, active=True)


def is_locked_out(person: Person) -> bool:
    """Return True while wrong passwords under this name are being counted."""
    return bool(AccessAttempt.objects.filter(username=person.username).exists())


def lift_lockout(person: Person) -> int:
    """Forget the wrong passwords under a person's name and return how many addresses they came from."""
    return int(reset(username=person.username))


def has_second_factor(person: Person) -> bool:
    """Return True when a person signs in with a code as well."""
    return any(True for _ in devices_for_user(person, confirmed=True))


def drop_second_factor(person: Person) -> int:
    """Remove the second factor of a person who lost their device and return how many devices there were."""
    with transaction.atomic():
        devices = list(devices_for_user(person, confirmed=None))
        for device in devices:
            device.delete()
    return len(devices)


def _activity(row: Any, by: Person, *, active: bool) -> Person:
    row.is_active = active
    return _save(row, by, "is_active")


def _save(row: Any, by: Person, field: str) -> Person:
    row._history_user = by  # noqa: SLF001 -- the documented way of simple_history
    row.save(update_fields=[field])
    saved: Person = row
    return saved
