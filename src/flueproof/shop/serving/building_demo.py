"""The demo shop is built by a process of its own, before the server forks its workers.

Not by the server's: building sets papers, the type setter keeps threads for that, and a worker forked from a process
that once set a paper waits for ever for threads that stayed behind.
"""

from __future__ import annotations

import subprocess
import sys

from flueproof.shop.serving.errors import ServingError


def build_in_own_process() -> None:
    """Build the demo shop in the place that the environment names. Raises: ServingError."""
    done = subprocess.run([sys.executable, "-m", __name__], check=False)  # noqa: S603 -- this very file
    if done.returncode:
        raise ServingError("the demo shop could not be built", "What went wrong stands above.")


def main() -> None:
    """Build it here."""
    import django  # noqa: PLC0415 -- the environment is set by the server that started this

    django.setup()
    from django.utils import timezone  # noqa: PLC0415

    from flueproof.shop.demo_shop.building import build_demo_shop  # noqa: PLC0415

    build_demo_shop(timezone.localtime())


if __name__ == "__main__":
    main()
