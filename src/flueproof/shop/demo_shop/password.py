"""The one password of the demo's people."""

from __future__ import annotations

from typing import Final

DEMO_PASSWORD: Final = "try-me-at-the-bench"  # noqa: S105 -- shown on the demo's sign-in page; nothing real behind it
