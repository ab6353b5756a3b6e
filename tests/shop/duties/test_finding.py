"""The page of a reference found wrong."""

import csv
import io

import pytest
from django.urls import reverse

from flueproof.impact.statements.wording import ONE_RULE


def page(client, finding, name="finding", **headers):
    return client.get(reverse(f"duties:{name}", args=[finding.pk]), headers=headers)


def test_it_says_how_far_it_is_and_offers_to_go_on(signer_client, finding):
    text = page(signer_client, finding).content.decode()
    assert "0 of 1 visits judged again" in text
    assert "Judge the next 20 now" in text


def test_before_and_after_stand_side_by_side(signer_client, judged_again):
    text = page(signer_client, judged_again).content.decode()
    assert "All 1 visit judged again" in text
    assert text.index("conform") < text.index("not conform")
    assert ONE_RULE in text


def test_the_bar_tells_the_page_when_all_is_done(signer_client, finding, judged_again):
    assert page(signer_client, judged_again, "progress", **{"HX-Request": "true"})["HX-Refresh"] == "true"


def test_the_bar_asks_again_while_something_is_left(signer_client, finding):
    answer = page(signer_client, finding, "progress", **{"HX-Request": "true"})
    assert "HX-Refresh" not in answer
    assert 'hx-trigger="every 2s"' in answer.content.decode()


def test_one_visit_is_shown_point_by_point(signer_client, judged_again, healthy):
    address = reverse("duties:visit", args=[judged_again.pk, healthy.pk])
    text = signer_client.get(address).content.decode()
    assert "lost conform" in text
    assert "502 ppm" in text
    assert "577 ppm" in text
    assert signer_client.get(reverse("duties:visit", args=[judged_again.pk, 9999])).status_code == 404


def test_the_list_can_be_taken_away(signer_client, judged_again):
    rows = list(csv.DictReader(io.StringIO(page(signer_client, judged_again, "finding-csv").content.decode())))
    lost = [row for row in rows if row["statement before"] == "conform" and row["statement after"] == "not-conform"]
    assert [row["channel"] for row in lost] == ["CO"]
    assert rows[-1]["job"] == ONE_RULE


def test_a_name_is_no_formula_in_the_list(signer_client, judged_again, owner):
    owner.name = "=1+1 Heating"
    owner.save()
    assert "'=1+1 Heating" in page(signer_client, judged_again, "finding-csv").content.decode()


@pytest.mark.parametrize("name", ["finding", "progress", "finding-csv"])
def test_strangers_and_owners_see_nothing_of_it(client_of, finding, name):
    address = reverse(f"duties:{name}", args=[finding.pk])
    assert client_of("stranger").get(address).status_code == 302
    assert client_of("owner").get(address).status_code == 403
    assert client_of("counter").get(address).status_code == 200
    assert client_of("manager").post(address).status_code == 405
