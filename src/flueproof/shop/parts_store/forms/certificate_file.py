"""A certificate as a file: what it really is, by its content."""

from __future__ import annotations

import io
import warnings
from typing import Any, Final

from django import forms
from PIL import Image, UnidentifiedImageError

LARGEST_BYTES: Final = 20 * 2**20
_IMAGES: Final = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}


class CertificateFileField(forms.FileField):
    """A PDF or picture; `clean` gives (name, content, media type), None for no file."""

    def __init__(self, **options: Any) -> None:
        """Say what is taken."""
        widget = forms.ClearableFileInput(attrs={"accept": ".pdf,.png,.jpg,.jpeg,.webp"})
        says = "PDF, PNG, JPEG or WebP, at most 20 MB."
        super().__init__(**{"max_length": 160, "help_text": says, "widget": widget, **options})

    def clean(self, data: Any, initial: Any = None) -> tuple[str, bytes, str] | None:
        """Return the file. Raises: ValidationError for what is no whole PDF or picture."""
        given: Any = super().clean(data, initial)
        if not given:
            return None
        if given.size > LARGEST_BYTES:
            raise forms.ValidationError(f"The file has {given.size / 2**20:.1f} MB; at most 20 MB are kept.")
        content = given.read()
        media = _media_type(content)
        if not media:
            raise forms.ValidationError("This is no whole PDF, PNG, JPEG or WebP, whatever its name says.")
        return given.name, content, media


def _media_type(content: bytes) -> str:
    if content.startswith(b"%PDF-") and b"%%EOF" in content[-2048:]:
        return "application/pdf"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=list(_IMAGES)) as image:
                image.verify()
                return _IMAGES.get(image.format or "", "")
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        return ""
    except Image.DecompressionBombWarning:
        return ""
