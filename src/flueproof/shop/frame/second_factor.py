"""The optional second factor: six figures from a program on the person's phone (TOTP), and backup codes on paper.

Of a backup code only a shortened SHA-256 is kept; it works once.
Source: RFC 6238 (the figures, by django-otp); the backup codes are our own choice.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import secrets
from typing import Any, Final

from django.db import transaction
from django.http import HttpRequest
from django.utils.safestring import SafeString, mark_safe
from django_otp import login as mark_verified
from django_otp import verify_token
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice

from flueproof.shop.records.models import Person

BACKUP_CODES: Final = 10
_SIGNS: Final = "abcdefghjkmnpqrstuvwxyz23456789"  # none that looks like another on paper
_GROUPS, _IN_GROUP = 3, 4


def has_second_factor(person: Any) -> bool:
    """Return True when the person has confirmed a second factor."""
    return bool(TOTPDevice.objects.filter(user_id=person.pk, confirmed=True).exists())


def begin_anew(person: Person) -> None:
    """Forget a key that was shown and never confirmed; the next one shown is new."""
    TOTPDevice.objects.filter(user=person, confirmed=False).delete()


def begin(person: Person) -> TOTPDevice:
    """Return the device being set up, made new where there is none yet; it asks for nothing before it is confirmed."""
    device: TOTPDevice | None = TOTPDevice.objects.filter(user=person, confirmed=False).first()
    return device or TOTPDevice.objects.create(user=person, name="phone", confirmed=False)


def confirm(request: HttpRequest, person: Person, code: str) -> list[str]:
    """Switch the second factor on when the code is right; return the backup codes, shown this once, else nothing."""
    with transaction.atomic():
        device = begin(person)
        if not code.isdigit() or not verify_token(person, device.persistent_id, code):
            return []
        device.refresh_from_db()
        device.confirmed = True
        device.save()
        codes = new_backup_codes(person)
    mark_verified(request, device)
    return codes


def new_backup_codes(person: Person) -> list[str]:
    """Return ten new backup codes; older ones stop working."""
    codes = [_code() for _ in range(BACKUP_CODES)]
    with transaction.atomic():
        StaticDevice.objects.filter(user=person).delete()
        device = StaticDevice.objects.create(user=person, name="backup codes", confirmed=True)
        for code in codes:
            device.token_set.create(token=_kept(person, code))
    return codes


def backup_codes_left(person: Person) -> int:
    """Return how many backup codes still work."""
    device = StaticDevice.objects.filter(user=person).first()
    return device.token_set.count() if device else 0


def verify(request: HttpRequest, person: Person, typed: str) -> bool:
    """Return True and mark the session when the typed figures or backup code are right."""
    text = "".join(typed.split()).lower()
    kind, token = (TOTPDevice, text) if text.isdigit() else (StaticDevice, _kept(person, text))
    device = kind.objects.filter(user=person, confirmed=True).first()
    if not text or device is None or verify_token(person, device.persistent_id, token) is None:
        return False
    mark_verified(request, device)
    return True


def locked_until(person: Person) -> dt.datetime | None:
    """Return until when no code is accepted because of wrong ones, or None."""
    devices = [*TOTPDevice.objects.filter(user=person), *StaticDevice.objects.filter(user=person)]
    answers = [device.verify_is_allowed() for device in devices]
    moments = [details["locked_until"] for allowed, details in answers if not allowed and details]
    return max(moments, default=None)


def switch_off(person: Person) -> None:
    """Remove the person's second factor and backup codes."""
    with transaction.atomic():
        TOTPDevice.objects.filter(user=person).delete()
        StaticDevice.objects.filter(user=person).delete()


def picture_of(device: TOTPDevice) -> SafeString:
    """Return the QR code of a device as inline SVG without styles or sizes; the page's CSS sizes it."""
    out = io.BytesIO()
    import segno  # noqa: PLC0415 -- wanted once a person and second factor; the server starts without it

    segno.make(device.config_url, micro=False).save(
        out, kind="svg", xmldecl=False, svgns=False, nl=False, omitsize=True, border=3, svgclass="qr", lineclass=None
    )
    return mark_safe(out.getvalue().decode())  # noqa: S308 -- drawn by segno; the address is inside as modules only


def key_in_groups(device: TOTPDevice) -> str:
    """Return the device's key for typing: base32 in groups of four."""
    key = device.config_url.split("secret=")[1].split("&")[0]
    return " ".join(key[start : start + 4] for start in range(0, len(key), 4))


def _code() -> str:
    return "-".join("".join(secrets.choice(_SIGNS) for _ in range(_IN_GROUP)) for _ in range(_GROUPS))


def _kept(person: Person, code: str) -> str:
    plain = code.replace("-", "").lower()
    return hashlib.sha256(f"{person.pk}:{plain}".encode()).hexdigest()[:16]
