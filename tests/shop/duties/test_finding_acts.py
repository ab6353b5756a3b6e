"""Judging the next visits at once, and writing to all owners."""

import pytest
from django.urls import reverse

from flueproof.shop.records.models import Duty, Letter, RecomputedVisit


def post(client, name, finding, **options):
    return client.post(reverse(f"duties:{name}", args=[finding.pk]), **options)


def test_the_next_visits_are_judged_now_and_a_second_press_judges_nothing_twice(signer_client, finding):
    assert post(signer_client, "judge", finding).status_code == 302
    post(signer_client, "judge", finding)
    assert RecomputedVisit.objects.get().danger == 1
    assert Duty.objects.get().kind == "reference"


def test_all_owners_are_written_to_once(counter_client, judged_again):
    post(counter_client, "letters", judged_again)
    post(counter_client, "letters", judged_again)
    letter = Letter.objects.get(kind="reference-wrong")
    assert "we said error" in letter.text
    assert "It never clears an appliance" in letter.text
    assert judged_again.duties.get().acts.get().letter == letter


def test_who_has_no_address_is_named_to_be_called(counter_client, judged_again, owner):
    owner.contacts.update_or_create(name="Ada Quay (invented)", defaults={"email": ""})
    answer = post(counter_client, "letters", judged_again, follow=True)
    assert "No e-mail for Tidewater Heating" in answer.content.decode()
    assert not Letter.objects.exists()


@pytest.mark.parametrize(("name", "refused"), [("judge", "technician"), ("letters", "owner")])
def test_wrong_methods_strangers_and_roles_without_the_right_are_refused(client_of, finding, name, refused):
    address = reverse(f"duties:{name}", args=[finding.pk])
    assert client_of("manager").get(address).status_code == 405
    assert client_of("stranger").post(address).status_code == 302
    assert client_of(refused).post(address).status_code == 403
    assert not RecomputedVisit.objects.exists()
