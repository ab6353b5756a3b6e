"""The password asked for again before a signature; a wrong one counts like a wrong one at the sign-in."""

from __future__ import annotations

from axes.helpers import get_client_ip_address
from axes.utils import reset
from django.contrib.auth import authenticate
from django.http import HttpRequest


def password_holds(request: HttpRequest, password: str) -> bool:
    """Return whether the password is the signed-in person's own.

    Too many wrong ones lock the name out at this address, and the answer then is the page that says so.
    """
    name = request.user.get_username()
    person = authenticate(request, username=name, password=password)
    if person is None or person.pk != request.user.pk:
        return False
    reset(ip=get_client_ip_address(request), username=name)
    return True
