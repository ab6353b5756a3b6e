"""Each action of the Gas rack: wrong method, strangers, and roles without the right."""

import pytest
from django.urls import reverse

READ = ("rack", "find", "reference", "judged", "judged-csv", "label")
WRITE = ("gauge", "upload", "withdraw")
FILL_IN = ("new", "add", "change", "compare", "morning")
OF_A_CODE = ("reference", "judged", "judged-csv", "label", "change", "compare", *WRITE)
ARGUMENTS = {name: ["CYL-0007"] for name in OF_A_CODE}
ARGUMENTS["add"] = ["test-gas"]
NOT_ALLOWED = {
    "withdraw": ("counter", "technician", "owner"),
    "gauge": ("counter", "owner"),
    "upload": ("counter", "owner"),
}


def address(name):
    return reverse(f"gas_rack:{name}", args=ARGUMENTS.get(name, []))


@pytest.mark.parametrize("name", [*READ, *WRITE, *FILL_IN])
def test_a_stranger_is_sent_to_sign_in(client, bottle, name):
    answer = client.post(address(name)) if name in WRITE else client.get(address(name))
    assert answer.status_code == 302
    assert "/sign-in" in answer["Location"]


@pytest.mark.parametrize("name", READ)
def test_an_owner_may_not_look_at_the_rack(owner_client, bottle, name):
    assert owner_client.get(address(name)).status_code == 403


@pytest.mark.parametrize("name", READ)
def test_the_counter_may_look(counter_client, bottle, name):
    assert counter_client.get(address(name)).status_code in {200, 302}


@pytest.mark.parametrize(("name", "role"), [(name, role) for name, roles in NOT_ALLOWED.items() for role in roles])
def test_who_has_no_right_writes_nothing(client_of, bottle, name, role):
    answer = client_of(role).post(address(name), {"why": "x", "gauge": "1000 kPa", "room": "70"})
    bottle.refresh_from_db()
    assert answer.status_code == 403
    assert bottle.state == "in-use"
    assert not bottle.gauge_readings.exists()


@pytest.mark.parametrize("name", FILL_IN)
@pytest.mark.parametrize("role", ["counter", "owner"])
def test_who_has_no_right_is_not_asked_to_fill_in(client_of, bottle, name, role):
    assert client_of(role).get(address(name)).status_code == 403


@pytest.mark.parametrize("name", WRITE)
def test_what_writes_is_never_a_get(manager_client, bottle, name):
    assert manager_client.get(address(name)).status_code == 405


@pytest.mark.parametrize("name", [*READ, "new"])
def test_what_reads_takes_no_post(manager_client, bottle, name):
    assert manager_client.post(address(name)).status_code == 405


@pytest.mark.parametrize("name", OF_A_CODE)
def test_a_code_that_nobody_has_is_not_found(manager_client, shop, name):
    there = reverse(f"gas_rack:{name}", args=["NONE"])
    answer = manager_client.post(there, {"why": "x"}) if name in WRITE else manager_client.get(there)
    assert answer.status_code == 404
