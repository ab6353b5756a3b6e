"""A new bottle on the page: compared, passed or sent back with the reason."""

from django.urls import reverse

from flueproof.shop.records.models import SpanCheck


def there():
    return reverse("gas_rack:compare", args=["CYL-0009"])


def looks(unit, old, co_new="500", co_old="502"):
    return {
        "unit": unit.pk, "old": old.pk, "new_o2": "0.0", "old_o2": "0.0", "new_co": co_new, "old_co": co_old,
    }  # fmt: skip


def test_without_a_control_analyzer_it_says_what_to_do(technician_client, new_bottle):
    assert "No analyzer is marked" in technician_client.get(there()).content.decode()


def test_the_old_one_is_read_first(technician_client, new_bottle, bottle, unit):
    page = technician_client.get(there()).content.decode()
    assert page.index("First the old bottle") < page.index("Then the new bottle")
    assert "certificate: 502 ppm" in page


def test_a_bottle_that_agrees_is_in_use(technician_client, new_bottle, bottle, unit):
    answer = technician_client.post(there(), looks(unit, bottle), follow=True)
    new_bottle.refresh_from_db()
    assert new_bottle.state == "in-use"
    assert "agrees and is in use" in answer.content.decode()
    assert "<svg" in answer.content.decode()


def test_a_bottle_that_does_not_stays_new_with_the_reason_and_a_second_press_adds_nothing(
    technician_client, new_bottle, bottle, unit
):
    for _ in range(2):
        answer = technician_client.post(there(), looks(unit, bottle, co_new="470"))
    new_bottle.refresh_from_db()
    assert answer.status_code == 422
    assert new_bottle.state == "new"
    assert "do not agree" in answer.content.decode()
    assert 'value="470"' in answer.content.decode()
    assert SpanCheck.objects.count() == 2


def test_a_field_left_empty_is_told_and_the_rest_is_kept(technician_client, new_bottle, bottle, unit):
    answer = technician_client.post(there(), looks(unit, bottle, co_old=""))
    assert answer.status_code == 422
    assert "required" in answer.content.decode()
    assert 'value="500"' in answer.content.decode()
    assert not SpanCheck.objects.exists()


def test_a_bottle_in_use_needs_no_check(technician_client, bottle, unit):
    answer = technician_client.get(reverse("gas_rack:compare", args=["CYL-0007"]), follow=True)
    assert "needs no check" in answer.content.decode()
