"""The bench page of one visit."""

import json
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from flueproof.shop.frame.the_shop import forget_the_shop
from shop.at_the_bench import demo_named, fed, job_of


def page_of(client, job):
    answer = client.get(reverse("bench:visit", args=[job.number]))
    assert answer.status_code == 200
    return answer.content.decode()


def heading(page):
    return re.search(r'id="next-head">([^<]*)<', page)[1]


def test_the_tag_stands_on_top_and_water_comes_first(technician_client, visit, job):
    page = page_of(technician_client, job)
    assert page.index(job.analyzer.serial) < page.index('id="next-head"') < page.index('id="plan-head"')
    assert heading(page).startswith("Drain trap and hose")


def test_a_number_typed_in_small_letters_is_found_by_its_index(technician_client, visit, job):
    with CaptureQueriesContext(connection) as queries:
        assert technician_client.get(reverse("bench:visit", args=[job.number.lower()])).status_code == 200
    asked = [one["sql"] for one in queries if '"records_job"."number"' in one["sql"].partition("WHERE")[2]]
    assert asked
    assert not [sql for sql in asked if "LIKE" in sql or "UPPER" in sql]  # either walks through all jobs


def test_a_job_that_never_came_to_the_bench_leads_to_its_first_page(technician_client, job):
    answer = technician_client.get(reverse("bench:visit", args=[job.number]))
    assert answer["Location"] == f"{reverse('bench:start')}?q={job.number}"


def test_no_such_job_is_not_found(technician_client, shop):
    assert technician_client.get(reverse("bench:visit", args=["J-2026-99999"])).status_code == 404


def test_the_next_useful_test_names_cylinder_litres_and_reason(technician_client, visit, job, ready):
    page = page_of(technician_client, job)
    assert heading(page) == "Put CYL-CO-500 on at the probe tip."
    assert "One blend through the whole path shows leak and cell at once." in page
    assert "20.0 L" in page
    assert "Vent outdoors" in page
    assert "Cylinder chained" in page


def test_the_plan_is_in_the_profiles_order_with_its_states(technician_client, visit, job, ready, gas):
    gas(400)
    page = page_of(technician_client, job)
    titles = [
        "CO through the owner",
        "O₂ on gas with little",
        "Stack temperature, one",
        "Draft, one point",
        "Tightness",
    ]
    places = [page.index(title, page.index('id="plan-head"')) for title in titles]
    assert places == sorted(places)
    assert "not conform" in page
    assert "not yet" in page


def test_error_and_uncertainty_are_pictured_with_caption_and_table(technician_client, visit, job, ready, gas):
    gas(498)
    page = page_of(technician_client, job)
    assert '<figure class="picture"><svg' in page
    assert "the point lies inside the limits." in page
    assert "The figures of this picture" in page
    assert "style=" not in page


def test_pictures_are_in_the_persons_units(technician_client, people, visit, job, ready, gas, rest):
    gas(498)
    rest()
    page = page_of(technician_client, job)
    assert "Draft: error, inH₂O" in page
    people["technician"].pressure_unit, people["technician"].temperature_unit = "mbar", "degC"
    people["technician"].save()
    page = page_of(technician_client, job)
    assert "Draft: error, mbar" in page
    assert "Stack temperature: error, °C" in page


def test_leak_or_cell_is_said_in_words(technician_client, visit, job, ready, gas, add):
    gas(470, o2=1.3)
    gas(499, feed="instrument")
    add("plug-test", phase="as-found", path={"feed": "tip", "probe": "owner"}, pump="runs-on", hiss_after_10_s=False)
    assert "A leak in the probe assembly." in page_of(technician_client, job)


def test_a_finished_visit_offers_the_signature(technician_client, visit, job, ready, gas, rest):
    gas(500)
    rest()
    page = page_of(technician_client, job)
    assert "Ready to sign." in page
    assert reverse("bench:finish", args=[job.number]) in page


def test_a_struck_step_stays_visible_with_its_reason(technician_client, visit, job, ready, add):
    add("note", text="wrong hose")
    add("strike", strikes="s4", why="was another unit")
    page = page_of(technician_client, job)
    assert '<li class="struck">' in page
    assert "Struck out: was another unit" in page


def test_who_only_looks_sees_no_acts(counter_client, visit, job, ready):
    page = page_of(counter_client, job)
    assert "Put CYL-CO-500 on" in page
    assert 'class="keyed' not in page
    assert "Strike out" not in page


@pytest.mark.parametrize(("who", "status"), [("stranger", 302), ("owner", 403)])
@pytest.mark.parametrize("name", ["visit", "plan", "since", "record", "record-json"])
def test_strangers_and_owners_are_refused(client_of, visit, job, who, status, name):
    assert client_of(who).get(reverse(f"bench:{name}", args=[job.number])).status_code == status


@pytest.mark.parametrize("name", ["visit", "plan", "since", "record", "record-json"])
def test_another_method_is_refused(technician_client, visit, job, name):
    assert technician_client.post(reverse(f"bench:{name}", args=[job.number])).status_code == 405


def test_a_job_that_is_not_there_is_not_found(technician_client, shop):
    assert technician_client.get(reverse("bench:visit", args=["J-2026-77777"])).status_code == 404


def test_a_job_that_never_came_to_the_bench_sends_to_the_first_page(technician_client, shop, job):
    answer = technician_client.get(reverse("bench:visit", args=[job.number]))
    assert answer["Location"] == f"{reverse('bench:start')}?q={job.number}"


def test_a_closed_bench_says_so(technician_client, visit, job, open_shop, ready):
    open_shop.morning_check_needed = True
    open_shop.save()
    forget_the_shop()
    assert "The bench is closed." in page_of(technician_client, job)


class TestSince:
    def ask(self, client, job, at):
        return client.get(reverse("bench:since", args=[job.number]), {"at": at})

    def test_what_somebody_else_added_makes_the_page_load_anew(self, technician_client, visit, job, add):
        before = self.ask(technician_client, job, 1)
        add("note", text="from the other bench")
        after = self.ask(technician_client, job, 1)
        assert (before.status_code, after.status_code) == (204, 204)
        assert "HX-Trigger" not in before
        assert json.loads(after["HX-Trigger"])["flueproof:recorded"] == {"position": 2}

    def test_nonsense_is_no_number(self, technician_client, visit, job):
        assert "HX-Trigger" not in self.ask(technician_client, job, "x")

    def test_the_changing_part_holds_the_next_thing_and_the_log(self, technician_client, visit, job, add):
        add("note", text="from the other bench")
        part = technician_client.get(reverse("bench:plan", args=[job.number])).content.decode()
        assert 'id="next-now" hx-swap-oob="innerHTML"' in part
        assert "from the other bench" in part
        assert "<html" not in part


class TestQueries:
    """The page must not ask more the longer a visit lasts."""

    def test_a_page_takes_a_dozen_queries_however_long_the_visit(
        self, technician_client, visit, job, owner, people, now, open_shop
    ):
        demo = demo_named("co-cell-replaced")
        long_job = job_of(demo, owner, now)
        fed(demo, long_job, people["technician"], now, open_shop)
        counts = []
        for one in (job, long_job):
            page_of(technician_client, one)
            with CaptureQueriesContext(connection) as asked:
                page_of(technician_client, one)
            counts.append(len(asked))
        assert max(counts) <= 12, counts


def test_gas_may_be_put_on_for_any_point_of_the_plan_in_any_order(technician_client, visit, ready):
    page = technician_client.get(f"/bench/{visit.job.number}/").content.decode()
    assert f"/bench/{visit.job.number}/step/gas?point=co-mid" in page
    form = technician_client.get(f"/bench/{visit.job.number}/step/gas?point=co-mid").content.decode()
    assert 'name="point" value="co-mid"' in form
    assert "Vent outdoors or to a hood" in form


def test_a_point_that_the_procedure_does_not_have_is_not_found(technician_client, visit):
    assert technician_client.get(f"/bench/{visit.job.number}/step/gas?point=moon").status_code == 404


def test_what_the_owner_says_stands_on_top(technician_client, visit):
    visit.job.complaint = "CO sits at 6 ppm outdoors"
    visit.job.save()
    assert "CO sits at 6 ppm outdoors" in technician_client.get(f"/bench/{visit.job.number}/").content.decode()
