"""The real server: it starts, answers, dies and comes back with what it had."""

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
