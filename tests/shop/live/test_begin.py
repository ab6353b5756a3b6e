"""Beginning a measurement: with what was scanned, and never with what may not be connected."""

import json

import pytest

from flueproof.shop.records.models import Application
from shop.cylinders import gas_content, make_cylinder, make_instrument

FORM = {"kind": "test-gas", "point": "co-mid", "code": "cyl-co-500", "feed": "tip", "probe": "owner"}


@pytest.fixture(autouse=True)
def _bench_is_open(job, shop):
    shop.morning_check_needed = False
    shop.save()
    job.state = "bench"
    job.save()


@pytest.fixture
def ready(visit, cylinder):
    visit.job.refresh_from_db()
    return visit


def begin(client, visit, **changes):
    return client.post("/live/begin", {"visit": visit.pk, **FORM, **changes}, headers={"HX-Request": "true"})


def test_a_scanned_cylinder_begins_the_point(technician_client, ready):
    answer = begin(technician_client, ready, supply_l_min="1,5", gauge_kpa="3450 kPa", vent_open="yes")
    assert answer.status_code == 200
    plan = Application.objects.get().plan
    assert plan["feed"] == {"supply_l_min": 1.5, "vent_open": True, "gauge_kpa_before": 3450.0}
    assert [one["channel"] for one in plan["channels"]] == ["o2", "co"]
    assert plan["phase"] == "as-found"


def test_a_script_is_answered_in_json(technician_client, ready):
    answer = technician_client.post(
        f"/live/{ready.pk}/begin",
        json.dumps(FORM),
        content_type="application/json",
        headers={"Accept": "application/json"},
    )
    assert answer.status_code == 201
    assert answer.json()["application"] == Application.objects.get().pk


def test_without_scripts_it_leads_back_to_the_bench(technician_client, ready):
    answer = technician_client.post("/live/begin", {"visit": ready.pk, **FORM})
    assert answer.status_code == 302
    assert ready.job.number in answer["Location"]


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: make_cylinder("wrong", state="withdrawn"), "withdrawn"),
        (lambda: make_cylinder("wrong", state="empty"), "empty"),
        (lambda: make_cylinder("wrong", state="new"), "not yet checked"),
        (lambda: make_cylinder("wrong", content=gas_content(balance="air")), "wrong balance"),
        (lambda: make_instrument("wrong"), "this point needs a test gas"),
    ],
)
def test_what_may_not_be_connected_is_refused_with_the_reason(technician_client, ready, make, said):
    make()
    answer = begin(technician_client, ready, code="wrong")
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Application.objects.exists()


def test_a_code_nobody_knows_is_refused(technician_client, ready):
    assert "Scan its label again" in begin(technician_client, ready, code="nothing").content.decode()


def test_nothing_begins_before_the_morning_check(technician_client, ready, shop):
    shop.morning_check_needed = True
    shop.save()
    answer = begin(technician_client, ready)
    assert "morning check" in answer.content.decode()
    assert not Application.objects.exists()


def test_nothing_begins_at_a_job_that_is_not_on_the_bench(technician_client, ready):
    ready.job.state = "arrived"
    ready.job.save()
    assert "not on the bench" in begin(technician_client, ready).content.decode()


def test_a_second_press_begins_nothing(technician_client, ready):
    begin(technician_client, ready)
    assert begin(technician_client, ready).status_code == 422
    assert Application.objects.count() == 1


def test_a_stack_temperature_is_read_in_the_display_s_unit(technician_client, ready):
    make_instrument("THERM-1")
    begin(
        technician_client, ready, kind="temperature", point="stack-hot", code="THERM-1",
        value="199.8", unit="degC", unit_stack="degF", feed="", probe="",
    )  # fmt: skip
    plan = Application.objects.get().plan
    assert plan["channels"] == [{"channel": "stack", "unit": "degF", "step": 1.0}]
    assert plan["extra"]["reference_value"] == {"unit": "degC", "value": 199.8}


@pytest.mark.parametrize("changes", [{"kind": "plug-test"}, {"supply_l_min": "much"}, {"point": "no-such"}])
def test_what_makes_no_sense_is_refused_in_words(technician_client, ready, changes):
    answer = begin(technician_client, ready, **changes)
    assert answer.status_code == 422
    assert 'class="refusal"' in answer.content.decode()


def test_only_who_may_work_at_the_bench_begins(counter_client, client, ready):
    assert begin(counter_client, ready).status_code == 403
    assert "/sign-in" in begin(client, ready).headers.get("HX-Redirect", "")
    assert not Application.objects.exists()


def test_get_begins_nothing(technician_client, ready):
    assert technician_client.get("/live/begin").status_code == 405


def test_the_gauge_is_read_in_the_shops_unit_and_kept_on_the_bottle(technician_client, ready, cylinder):
    begin(technician_client, ready, gauge_kpa="1,200", vent_open="yes")  # psi: the shop's papers are in US units
    kept = cylinder.gauge_readings.get()
    assert kept.kpa == pytest.approx(1200 * 6.894757, abs=0.1)  # NIST SP 811, Appendix B.8
    assert Application.objects.get().plan["feed"]["gauge_kpa_before"] == pytest.approx(kept.kpa)


@pytest.mark.parametrize(("said", "plan"), [("yes", True), ("no", None)])
def test_a_vent_that_was_not_seen_to_blow_is_not_said_to(technician_client, ready, said, plan):
    begin(technician_client, ready, vent_open=said)
    assert Application.objects.get().plan["feed"].get("vent_open") is plan
