"""The real server: it starts, answers, dies and comes back with what it had."""

import concurrent.futures
import os
import subprocess
import sys
import urllib.request

import pytest

from shop.serving import running_shop


@pytest.fixture
def shop(tmp_path):
    with running_shop(tmp_path) as running:
        yield running


def test_a_killed_server_comes_back_with_what_it_had(shop):
    shop.python("from flueproof.shop.records.models import Owner; Owner.objects.create(name='Tidewater (invented)')")
    shop.kill()
    shop.start()
    assert urllib.request.urlopen(shop.address + "/sign-in").status == 200
    assert shop.python("from flueproof.shop.records.models import Owner; print(Owner.objects.count())").strip() == "1"


def test_many_requests_beside_the_sender_of_webhooks_all_come(shop):
    def status(_number):
        return urllib.request.urlopen(shop.address + "/sign-in").status

    with concurrent.futures.ThreadPoolExecutor(6) as pool:
        answers = list(pool.map(status, range(300)))
    assert set(answers) == {200}
    assert "Traceback" not in (shop.folder / "serve.log").read_text()


def test_every_page_s_files_are_collected_and_packed_but_not_what_no_page_loads(shop):
    static = shop.folder / "data" / "static"
    names = {path.name for path in static.rglob("*") if path.is_file()}
    assert {"live.js", "live.js.gz", "swagger-ui-bundle.js.gz", "staticfiles.json"} <= names
    assert not [name for name in names if name.endswith(".map.gz") or name.startswith("redoc")]
    with urllib.request.urlopen(shop.address + "/static/live/live.js") as answer:
        assert answer.status == 200


HEAVY = {"scipy.special", "openpyxl", "segno", "typst"}


def test_the_first_page_waits_for_nothing_that_few_pages_need(tmp_path):
    code = f"import django, sys; django.setup(); import flueproof.shop.urls; print(sorted({HEAVY} & set(sys.modules)))"
    away = {"FLUEPROOF_DATA": str(tmp_path), "DJANGO_SETTINGS_MODULE": "flueproof.shop.settings"}
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", code],
        env={**os.environ, **away},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "[]"
