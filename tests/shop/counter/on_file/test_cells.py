"""A cell is replaced from the analyzer's page."""

import pytest
from django.urls import reverse


@pytest.fixture
def old(shop, analyzer):
    return analyzer.cells.get(gas="co")


@pytest.fixture
def there(old):
    return reverse("counter:cell-replace", args=[old.analyzer_id, old.pk])


SENT = {"serial": "B8", "lot": "L2", "made": "2026-01", "fitted": "2026-11-20"}


def test_the_old_cell_comes_out_on_the_day_the_new_one_goes_in(counter_client, there, old):
    assert "Replace CO cell B7" in counter_client.get(there).content.decode()
    page = counter_client.post(there, SENT, follow=True).content.decode()
    assert "CO cell B7 stays on file" in page
    old.refresh_from_db()
    new = old.analyzer.cells.get(serial="B8")
    assert (new.gas, new.fitted, old.removed) == ("co", old.removed, new.fitted)


def test_the_same_press_twice_makes_one(counter_client, there, old):
    for _ in range(2):
        assert counter_client.post(there, SENT).status_code == 302
    assert old.analyzer.cells.filter(gas="co").count() == 2


def test_the_second_of_two_people_is_told_and_keeps_what_was_typed(counter_client, manager_client, there, old):
    assert manager_client.post(there, SENT).status_code == 302
    answer = counter_client.post(there, SENT | {"serial": "B9"})
    assert answer.status_code == 422
    assert "came out on 2026-11-20 already" in answer.content.decode()
    assert 'value="B9"' in answer.content.decode()


@pytest.mark.parametrize(
    ("fitted", "said"),
    [("", "required"), ("2999-01-01", "has not come yet"), ("2020-01-01", "went in on 14 Sep")],
)
def test_a_day_that_cannot_be_keeps_what_was_typed(counter_client, there, old, fitted, said):
    answer = counter_client.post(there, SENT | {"fitted": fitted})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert 'value="B8"' in answer.content.decode()
    assert not old.analyzer.cells.filter(serial="B8").exists()


def test_who_may_not_is_refused(client_of, there, old):
    for role in ("technician", "signer", "owner"):
        assert client_of(role).post(there, SENT).status_code == 403
    assert client_of("stranger").post(there, SENT).status_code == 302
    assert client_of("counter").put(there).status_code == 405
    assert old.analyzer.cells.count() == 2
