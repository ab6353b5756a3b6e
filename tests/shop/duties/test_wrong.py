"""Saying that a reference was wrong."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from flueproof.shop.frame.forms.certificate import GASES, typed_of
from flueproof.shop.records.models import Reference, ReferenceFinding


@pytest.fixture
def said(bottle, right):
    """What the form sends: the right content, and how it was found."""
    typed = {name: value for name, value in typed_of("test-gas", right).items() if value != ""}
    units = {f"{gas}_unit": "ppm" for gas in GASES}
    return {**units, **typed, "how": "The filler recalled it (invented)."}


def address(row):
    return reverse("duties:wrong", args=[row.code])


def test_the_form_stands_beside_what_the_certificate_says(signer_client, bottle):
    page = signer_client.get(address(bottle)).content.decode()
    assert "1 visit of 1 owner" in page
    assert "502 ppm" in page


def test_it_is_withdrawn_and_its_visits_wait_to_be_judged(signer_client, bottle, said):
    answer = signer_client.post(address(bottle), said)
    finding = ReferenceFinding.objects.get()
    assert answer["Location"] == reverse("duties:finding", args=[finding.pk])
    assert Reference.objects.get(pk=bottle.pk).state == "withdrawn"
    assert Reference.objects.get(pk=bottle.pk).content["components"]["co"]["value"] == 502.0
    assert finding.content["components"]["co"]["value"] == pytest.approx(577.3)


def test_the_same_said_twice_is_one_finding(signer_client, bottle, said):
    signer_client.post(address(bottle), said)
    signer_client.post(address(bottle), said)
    assert ReferenceFinding.objects.count() == 1


def test_counting_keeps_nothing(signer_client, bottle, said):
    answer = signer_client.post(address(bottle), {**said, "count": "1", "since": timezone.localdate().isoformat()})
    assert answer.status_code == 200
    assert "since" in answer.content.decode()
    assert not ReferenceFinding.objects.exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"how": " "}, "This field is required"),
        ({"co_value": "many"}, "Enter a number"),
        ({"co_value": "502", "how": "looked"}, "stands in the records already"),
        ({"co_value": "-3"}, "wrong-form"),
        ({"since": "2999-01-01"}, "has not been yet"),
        ({"since": "yesterday"}, "Enter a valid date"),
    ],
)
def test_what_cannot_be_kept_is_refused_and_what_was_typed_stays(signer_client, bottle, said, change, words):
    answer = signer_client.post(address(bottle), {**said, **change})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not ReferenceFinding.objects.exists()
    assert Reference.objects.get(pk=bottle.pk).state == "in-use"


def test_a_thermometer_says_what_must_be_added(signer_client, bottle):
    row = Reference.objects.get(code="THERM-1")
    typed = {name: value for name, value in typed_of(row.kind, row.content).items() if value != ""}
    signer_client.post(address(row), {**typed, "how": "compared (invented)", "shift": "-0.8"})
    assert ReferenceFinding.objects.get().shift == pytest.approx(-0.8)


def test_a_day_of_use_narrows_the_count(signer_client, bottle, said):
    since = (timezone.localdate() - dt.timedelta(days=9999)).isoformat()
    assert "1 visit" in signer_client.post(address(bottle), {**said, "count": "1", "since": since}).content.decode()


@pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403), ("counter", 403), ("technician", 403)])
def test_only_who_signs_may_say_so(client_of, bottle, said, who, status):
    assert client_of(who).get(address(bottle)).status_code == status
    assert client_of(who).post(address(bottle), said).status_code == status
    assert not ReferenceFinding.objects.exists()


def test_the_rack_leads_here_for_those_who_may(signer_client, technician_client, bottle):
    rack = reverse("gas_rack:reference", args=[bottle.code])
    assert address(bottle) in signer_client.get(rack).content.decode()
    assert address(bottle) not in technician_client.get(rack).content.decode()


def test_a_reference_that_is_not_there_is_said_so(signer_client, shop):
    assert signer_client.get(reverse("duties:wrong", args=["no/such"])).status_code == 404
