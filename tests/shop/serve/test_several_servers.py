"""Several servers of one shop: they may start at the same moment on an empty database."""

import os
from concurrent.futures import ThreadPoolExecutor

import pytest

from shop.serving import RunningShop, free_port, own_database

COUNT = """
from django.db.migrations.recorder import MigrationRecorder
rows = list(MigrationRecorder.Migration.objects.values_list("app", "name"))
print(len(rows) - len(set(rows)), len(rows))
"""


@pytest.mark.skipif(not os.environ.get("DATABASE_URL", "").startswith("postgres"), reason="one server on SQLite")
def test_servers_that_start_at_once_on_an_empty_database_prepare_it_once(tmp_path):
    base = {name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
    with own_database({**base, "FLUEPROOF_DATA": str(tmp_path / "data")}) as environment:
        (tmp_path / "data").mkdir()
        servers = [RunningShop(tmp_path, environment, free_port()) for _ in range(3)]
        try:
            with ThreadPoolExecutor(len(servers)) as pool:
                list(pool.map(RunningShop.start, servers))
            twice, there = servers[0].python(COUNT).split()
        finally:
            for one in servers:
                one.kill()
        assert (twice, int(there) > 20) == ("0", True)
        assert "Traceback" not in (tmp_path / "serve.log").read_text()
