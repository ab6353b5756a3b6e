"""The call log."""

from flueproof.shop.records.models import PhoneCall

CALLS = "/calls/"


def test_a_call_is_noted_with_the_owner_of_the_number(counter_client, owner, shop):
    answer = counter_client.post(CALLS, {"caller": "Ada Quay", "phone": "555-0100", "said": "It is mailed."})
    assert answer["Location"] == CALLS
    assert PhoneCall.objects.get().owner == owner
    page = counter_client.get(CALLS).content.decode()
    assert "It is mailed." in page
    assert owner.name in page


def test_a_call_about_a_job_or_a_serial_is_tied_to_it(counter_client, job, shop):
    counter_client.post(CALLS, {"caller": "A.", "about": "j-2026-00042"})
    counter_client.post(CALLS, {"caller": "B.", "about": "o5-20417"})
    second, first = PhoneCall.objects.all()
    assert (first.job, second.job, second.analyzer) == (job, None, job.analyzer)


def test_a_call_of_nobody_about_nothing_and_one_about_what_is_not_on_file_are_refused(counter_client, shop):
    assert counter_client.post(CALLS, {}).status_code == 422
    answer = counter_client.post(CALLS, {"caller": "Ada <b>", "about": "ZZZ-1"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "No job and no single analyzer" in page
    assert "Ada &lt;b&gt;" in page
    assert not PhoneCall.objects.exists()


def test_who_may_not_receive_boxes_sees_no_calls(owner_client, client_of, shop):
    assert owner_client.get(CALLS).status_code == 403
    assert client_of("stranger").get(CALLS).status_code == 302
