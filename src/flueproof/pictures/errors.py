"""What can go wrong when a picture is drawn.

PictureError
└── EmptyPictureError    nothing to draw
"""

from __future__ import annotations


class PictureError(ValueError):
    """A picture cannot be drawn from what was given."""


class EmptyPictureError(PictureError):
    """No mark, or no reading that is a number, was given."""
