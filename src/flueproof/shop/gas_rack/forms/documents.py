"""Papers of a reference: what a file really is, by its content."""

from __future__ import annotations

import io
import warnings
from typing import Any, Final

from django import forms
from PIL import Image, UnidentifiedImageError

LARGEST_BYTES: Final = 20 * 2**20
_IMAGES: Final = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}


def media_type_of(content: bytes) -> str:
    """Return the media type of a PDF or image by its content, "" for anything else; its name and claim do not count."""
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


class DocumentForm(forms.Form):
    """A certificate or another paper, as PDF or picture."""

    title = forms.CharField(label="What it is", max_length=120, initial="Certificate")
    file = forms.FileField(
        label="File",
        max_length=160,
        help_text="PDF, PNG, JPEG or WebP, at most 20 MB.",
        widget=forms.ClearableFileInput(attrs={"accept": ".pdf,.png,.jpg,.jpeg,.webp"}),
    )

    def clean_file(self) -> Any:
        """Return the file with its real media type in `content_type`."""
        given: Any = self.cleaned_data["file"]
        if given.size > LARGEST_BYTES:
            raise forms.ValidationError(f"The file has {given.size / 2**20:.1f} MB; at most 20 MB are kept.")
        content = given.read()
        given.seek(0)
        kind = media_type_of(content)
        if not kind:
            raise forms.ValidationError("This is no whole PDF, PNG, JPEG or WebP, whatever its name says.")
        given.content_type = kind
        return given
