"""A rack with one bottle in use, a new one and a control analyzer."""

import pytest

from shop.cylinders import gas_content, make_control_unit, make_cylinder


@pytest.fixture(autouse=True)
def _time_stands(monkeypatch, now):
    """Every page is asked at the same moment, so that nothing on the rack expires while the years pass."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: now)


@pytest.fixture
def unit(owner):
    return make_control_unit(owner)


@pytest.fixture
def bottle(shop):
    return make_cylinder("CYL-0007")


@pytest.fixture
def new_bottle(shop):
    content = gas_content(number="C-9", certificate="LN-90001")
    return make_cylinder("CYL-0009", state="new", content=content)
