"""The job list."""


def test_an_open_job_is_listed(technician_client, shop, job):
    assert job.number in technician_client.get("/").content.decode()


def test_a_stranger_is_sent_to_sign_in(client, shop):
    answer = client.get("/")
    assert answer.status_code == 302
    assert "/sign-in" in answer["Location"]
