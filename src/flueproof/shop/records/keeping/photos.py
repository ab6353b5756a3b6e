"""Photos of a display: made small, without what the camera wrote about place and owner, and kept once each."""

from __future__ import annotations

import io
import warnings
from datetime import datetime
from typing import Final

from PIL import Image, ImageOps, UnidentifiedImageError

from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.models import Blob

LARGEST_FILE: Final = 30 * 2**20
LONGEST_SIDE: Final = 1600
MOST_PIXELS: Final = 120_000_000  # cameras of telephones stay below (from memory); more is a trap
_FORMATS: Final = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
_QUALITY: Final = 82


class PhotoError(ValueError):
    """A file that is not kept as a photo; the message says why and what to do."""


def keep_photo(content: bytes, now: datetime) -> Blob:
    """Store a photo as JPEG, at most 1600 pixels long, upright and without EXIF; return its row.

    Raises: PhotoError.
    """
    return keep_blob(small_jpeg(content), "image/jpeg", now)


def small_jpeg(content: bytes) -> bytes:
    """Return a photo as such a JPEG file.

    Raises: PhotoError for what is no picture, too large, or damaged.
    """
    if len(content) > LARGEST_FILE:
        raise PhotoError(f"The photo has {len(content) / 2**20:.0f} MB; take one of at most 30 MB.")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=_FORMATS) as picture:
                if picture.width * picture.height > MOST_PIXELS:
                    raise PhotoError(f"The photo has {picture.width} x {picture.height} pixels; take a smaller one.")
                picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
                upright = ImageOps.exif_transpose(picture)
                upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                plain = Image.new("RGB", upright.size, "white")
                plain.paste(upright.convert("RGB"))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise PhotoError("The photo has more pixels than any camera at a bench; take a smaller one.") from None
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, TypeError, IndexError, EOFError) as error:
        if isinstance(error, PhotoError):
            raise
        raise PhotoError("This file is no photo that can be read; take it again, as JPEG or PNG.") from None
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=_QUALITY)
    return out.getvalue()
