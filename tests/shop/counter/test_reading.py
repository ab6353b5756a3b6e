"""Pages to read: a job, an owner, an analyzer."""

import pytest


@pytest.fixture
def paths(shop, job, owner, analyzer):
    return {"job": f"/jobs/{job.number}", "owner": f"/owners/{owner.pk}", "analyzer": f"/analyzers/{analyzer.pk}"}


@pytest.mark.parametrize(
    ("what", "said"), [("job", "O2 reads high"), ("owner", "555-0100"), ("analyzer", "co cell B7")]
)
def test_the_page_says_what_is_known(technician_client, paths, what, said):
    assert said in technician_client.get(paths[what]).content.decode()


@pytest.mark.parametrize("what", ["job", "owner", "analyzer"])
def test_a_stranger_and_an_external_owner_are_refused(client, owner_client, paths, what):
    assert client.get(paths[what]).status_code == 302
    assert owner_client.get(paths[what]).status_code == 403


@pytest.mark.parametrize("path", ["/jobs/J-1999-00001", "/owners/999999", "/analyzers/999999"])
def test_what_is_not_there_is_said_so(technician_client, shop, path):
    assert technician_client.get(path).status_code == 404


def test_reading_changes_nothing(technician_client, paths):
    assert technician_client.post(paths["job"]).status_code == 405
