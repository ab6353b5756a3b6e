"""Asking a signed-in person for their password again; wrong ones count toward the same lock-out as at sign-in."""

from __future__ import annotations

from axes.helpers import get_client_ip_address
from axes.utils import reset
from django.contrib.auth import authenticate
from django.http import HttpRequest

from flueproof.shop.records.models import Person


def password_is_right(request: HttpRequest, password: str) -> bool:
    """Return True when this is the signed-in person's password; the wrong ones before it are then forgotten.

    After too many wrong ones the answer of the request becomes the lock-out page (429), also for the right one.
    """
    person = request.user
    if not isinstance(person, Person) or not password:
        return False
    found = authenticate(request, username=person.username, password=password)
    if found is None or found.pk != person.pk:
        return False
    reset(ip=get_client_ip_address(request), username=person.username)
    return True
